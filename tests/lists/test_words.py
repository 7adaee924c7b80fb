import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.lists import words


@pytest.mark.parametrize(
    ("text", "alike", "labels"),
    [
        pytest.param("", ("L", "R"), None, id="blank"),
        pytest.param("L", ("L", "R"), ("L",), id="plain"),
        pytest.param("lh", ("L", "R"), ("L",), id="lh"),
        pytest.param("L.H.", ("L", "R"), ("L",), id="dots"),
        pytest.param("Left-hand side", ("L", "R"), ("L",), id="in-words"),
        pytest.param(" Port ", ("L", "R"), ("L",), id="port"),
        pytest.param("stbd", ("L", "R"), ("R",), id="stbd"),
        pytest.param("Starboard", ("L", "R"), ("R",), id="starboard"),
        pytest.param("Centre line", ("L", "R"), ("C",), id="centre-line"),
        pytest.param("℄", ("L", "R"), ("C",), id="centre-sign"),
        pytest.param("C/L", ("L", "R"), None, id="centre-line-or-two-sides"),
        pytest.param("both", ("L", "R"), ("L", "R"), id="both"),
        pytest.param("All", ("1", "2", "3"), ("1", "2", "3"), id="all-of-three"),
        pytest.param("L/R", ("L", "R"), ("L", "R"), id="slash"),
        pytest.param("LH & RH", ("L", "R"), ("L", "R"), id="ampersand"),
        pytest.param("R+L", ("L", "R"), ("L", "R"), id="plus-in-declared-order"),
        pytest.param("left and right", ("L", "R"), ("L", "R"), id="and"),
        pytest.param("LR", ("L", "R"), ("L", "R"), id="no-separator"),
        pytest.param("1|3", ("1", "2", "3"), ("1", "3"), id="bar"),
        pytest.param("1, 2, and 3", ("1", "2", "3"), ("1", "2", "3"), id="comma-and-and"),
        pytest.param("C, L", ("L", "R"), ("L", "C"), id="centre-comes-last"),
        pytest.param("1, 2", ("1", "2", "3"), ("1", "2"), id="declared-numbers"),
        pytest.param("L", ("1", "2", "3"), None, id="left-where-there-is-none"),
        pytest.param("C", ("1", "2", "3"), ("C",), id="centre-always"),
        pytest.param("left", ("LH", "RH"), ("LH",), id="as-declared"),
        pytest.param("inner", ("Inner", "Outer"), ("Inner",), id="declared-words"),
        pytest.param("Q", ("L", "R"), None, id="no-side"),
        pytest.param("L, Q", ("L", "R"), None, id="half-a-side"),
    ],
)
def test_side_labels(text, alike, labels):
    assert words.side_labels(text, alike) == labels


@pytest.mark.parametrize(
    ("token", "side"),
    [("lh", "L"), ("PORT", "L"), ("r", "R"), ("mid", "C"), ("both", None), ("", None), ("2", None)],
)
def test_side_word(token, side):
    assert words.side_word(token) == side


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("", None),
        *[(text, True) for text in ("yes", "Y", "TRUE", "x", "X", "1", "✓", "☑")],
        *[(text, False) for text in ("no", "N", "FALSE", "0", "-", "–")],
        ("perhaps", None),
        ("2", None),
    ],
)
def test_yes_no(text, meant):
    assert words.yes_no(text) is meant


@pytest.mark.parametrize(
    ("text", "act"),
    [
        ("", None),
        ("Made", "made"),
        ("connected", "made"),
        ("mated", "made"),
        ("disconnected", "opened"),
        ("broken", "opened"),
        ("begin", "started"),
        ("Completed", "done"),
        ("checked", "inspected"),
        ("fed through", "placed"),
        ("fit", "fitted"),
        ("removal", "removed"),
        ("measure", "measured"),
        ("installed", None),
        ("torqued", None),
        ("painted", None),
    ],
)
def test_act_word(text, act):
    assert words.act_word(text) == act


def test_every_act_of_the_model_is_a_word():
    from joinmatrix.assembly.model import Act

    assert {words.act_word(act.value) for act in Act} == {act.value for act in Act}


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("", None),
        ("7", 7),
        ("-1.5", -1.5),
        ("−2", -2),
        ("1,5", 1.5),
        ("0,500", 0.5),
        ("1,500", None),
        ("1.500", 1.5),
        ("1.500,0", 1500),
        ("1,500.0", 1500),
        ("12,345,678", 12_345_678),
        ("1 500", 1500),
        ("1\u00a0500,5", 1500.5),
        ("1'500", 1500),
        ("1/4", 0.25),
        ("1 1/4", 1.25),
        ("1-1/2", 1.5),
        ("½", 0.5),
        ("1½", 1.5),
        ("1/0", None),
        ("5%", None),
        ("nan", None),
        ("inf", None),
        ("1e999", None),
        ("1_000", None),
        ("135 in-lbf", None),
    ],
)
def test_number(text, number):
    assert words.number(text) == number


@pytest.mark.parametrize(
    ("text", "iso"),
    [
        ("", None),
        ("2026-03-04", "2026-03-04"),
        ("2026/3/4", "2026-03-04"),
        ("2026-03-04 10:30", "2026-03-04T10:30"),
        ("2026-03-04T10:30:00", "2026-03-04T10:30"),
        ("2026-03-04T10:30:15.250", "2026-03-04T10:30:15"),
        ("2026-03-04T10:30Z", "2026-03-04T10:30Z"),
        ("2026-03-04 10:30 +0200", "2026-03-04T10:30+02:00"),
        ("2026-03-04 00:00:00", "2026-03-04"),
        ("2026-03-04 9:05 pm", "2026-03-04T21:05"),
        ("20260304", "2026-03-04"),
        ("4 Mar 2026", "2026-03-04"),
        ("04MAR26", "2026-03-04"),
        ("4th March 2026", "2026-03-04"),
        ("Mar 4, 2026", "2026-03-04"),
        ("25/12/2026", "2026-12-25"),
        ("12/25/2026", "2026-12-25"),
        ("4/4/2026", "2026-04-04"),
        ("4/3/2026", None),
        ("25/12/45", "2045-12-25"),
        ("45-12-25", "2045-12-25"),
        ("31-03-04", None),
        ("25.12.31", "2031-12-25"),
        ("4-3-45", None),
        ("25-3-45", "2045-03-25"),
        ("31-13-04", None),
        ("04-04-04", "2004-04-04"),
        ("2026-02-30", None),
        ("2026-03-04 25:00", None),
        ("46085", None),
        ("next week", None),
    ],
)
def test_date_or_time(text, iso):
    assert words.date_or_time(text) == iso


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        *[("10:30", "10:30"), ("9:05:07", "09:05:07"), ("0930", "09:30"), ("1:15 pm", "13:15")],
        *[("", None), ("25:00", None), ("noon", None)],
    ],
)
def test_clock_time(text, clock):
    assert words.clock_time(text) == clock


@pytest.mark.parametrize(
    ("text", "found"),
    [
        pytest.param("J1", [], id="plain"),
        pytest.param("é", [], id="accent"),
        pytest.param("Ж1", [], id="all-of-one-alphabet"),
        pytest.param(
            "\u0408-JOINT", ["U+0408 CYRILLIC CAPITAL LETTER JE"], id="cyrillic-among-latin"
        ),
        pytest.param("H\u20131", ["U+2013 EN DASH"], id="en-dash"),
        pytest.param("J\u200b1", ["U+200B ZERO WIDTH SPACE"], id="invisible"),
    ],
)
def test_odd_characters(text, found):
    assert list(words.odd_characters(text)) == found


@given(st.text(max_size=40))
def test_no_text_is_too_odd(text):
    words.side_labels(text)
    words.number(text)
    words.date_or_time(text)
    words.clock_time(text)
    words.act_word(text)
    list(words.odd_characters(text))


@given(st.dates(min_value=__import__("datetime").date(1980, 1, 1)))
def test_iso_dates_stay_as_they_are(day):
    assert words.date_or_time(day.isoformat()) == day.isoformat()


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12))
def test_numbers_as_python_writes_them(value):
    assert words.number(f"{value:.6f}") == pytest.approx(value, abs=1e-6)
