"""Sizes in different spellings."""

import pytest

from joinmatrix.reference.match import Match
from joinmatrix.reference.sizes import canonical, compare, shell_of

FITS, UNSURE, DIFFERS = Match.FITS, Match.UNSURE, Match.DIFFERS


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        pytest.param("-6", "-6", FITS, id="same-words"),
        pytest.param("-06", "-6", FITS, id="dash-with-zero"),
        pytest.param("dash 6", "-6", FITS, id="dash-as-word"),
        pytest.param("-6", "3/8", FITS, id="dash-and-fraction"),
        pytest.param("-6", "3/8 in OD tube", FITS, id="words-that-say-what-is-measured"),
        pytest.param("-6", "0.375 in", FITS, id="dash-and-decimal"),
        pytest.param("-6", "9.525 mm", FITS, id="dash-and-exact-mm"),
        pytest.param("-20", "1 1/4 in", FITS, id="dash-and-mixed-fraction"),
        pytest.param('1.25"', "1-1/4", FITS, id="decimal-and-mixed-fraction"),
        pytest.param("1/2 in (12.7 mm)", "-8", FITS, id="said-in-two-ways"),
        pytest.param("Ø6 mm", "6mm OD", FITS, id="diameter-sign"),
        pytest.param("6,0 mm", "6 mm", FITS, id="decimal-comma"),
        pytest.param("M10x1", "M10 × 1.0", FITS, id="metric-thread"),
        pytest.param("15", "D", FITS, id="shell-number-and-letter"),
        pytest.param("15-35", "D35", FITS, id="shell-with-layout"),
        pytest.param("F350", "19-350", FITS, id="shell-with-a-layout-of-three-digits"),
        pytest.param("20 AWG", "AWG 20", FITS, id="wire-gauge"),
        pytest.param("35 mm²", "35 sq mm", FITS, id="wire-section"),
        pytest.param('1½"', "1.5 in", FITS, id="vulgar-fraction-behind-its-whole"),
        pytest.param("1 ½ in", "1-½", FITS, id="vulgar-fraction-apart"),
        pytest.param("3/8”", "-6", FITS, id="closing-quotation-mark"),
        pytest.param("3/8″", "-6", FITS, id="double-prime"),
        pytest.param("3/8''", "-6", FITS, id="two-apostrophes"),
        pytest.param("3/8’’", "-6", FITS, id="two-curly-apostrophes"),
        pytest.param("2”", "2 in", FITS, id="quotation-mark-behind-a-whole-number"),
        pytest.param("‑8", "1/2", FITS, id="hyphen-that-does-not-break"),
        pytest.param("−8", "–8", FITS, id="minus-and-dash"),
        pytest.param("9.5 mm", "3/8", UNSURE, id="equal-once-rounded"),
        pytest.param("6", "-6", UNSURE, id="no-family"),
        pytest.param("0.375", "3/8", UNSURE, id="no-unit"),
        pytest.param("AN4", "-4", UNSURE, id="unknown-family-same-digits"),
        pytest.param("15", "15-35", UNSURE, id="insert-on-one-half"),
        pytest.param("D", "15-35", UNSURE, id="letter-and-insert"),
        pytest.param("35", "15-35", UNSURE, id="a-number-that-may-be-the-insert"),
        pytest.param("AN-8", "1/2", UNSURE, id="words-and-other-digits"),
        pytest.param("AN-8", "-6", UNSURE, id="words-and-another-dash"),
        pytest.param("AN-8", "8", UNSURE, id="words-and-a-bare-number"),
        pytest.param("AN-6", "6", UNSURE, id="words-and-its-bare-number"),
        pytest.param("G 1/2", "1/2 BSP", UNSURE, id="other-words-for-it"),
        pytest.param("1 1/2 NPT", "1.5 NPT", UNSURE, id="same-words-same-number"),
        pytest.param("full bore", "1/2 in", UNSURE, id="words-without-digits"),
        pytest.param("3/8 in stainless", "-6", UNSURE, id="a-size-with-words"),
        pytest.param("1/2 in NPT", "21.3 mm", UNSURE, id="a-pipe-thread-measures-nothing"),
        pytest.param("AWG 20", "0.5 mm²", UNSURE, id="gauge-and-section"),
        pytest.param("M10", "M10x1.5", UNSURE, id="pitch-on-one-half"),
        pytest.param("1/4-28", "1/4-28 UNF", UNSURE, id="series-on-one-half"),
        pytest.param("DN25", "1 in", UNSURE, id="nominal-pipe-from-memory"),
        pytest.param("DN25", "NPS 1", UNSURE, id="two-names-of-a-pipe"),
        pytest.param("1-1/4 in NPS", "DN32", UNSURE, id="two-names-of-a-pipe-with-a-fraction"),
        pytest.param("NPS 1½", "NPS 1.5", FITS, id="one-name-of-a-pipe"),
        pytest.param("NPS 1", "1 in", UNSURE, id="a-pipe-measures-nothing-that-it-is-called"),
        pytest.param("NPS 1", "25", UNSURE, id="a-number-that-may-be-the-other-name"),
        pytest.param("NPS 1", "1", UNSURE, id="a-number-that-may-be-the-name"),
        pytest.param("DN25", "33.7 mm", UNSURE, id="a-pipe-and-what-it-measures"),
        pytest.param("DN25", "-16", UNSURE, id="a-pipe-and-a-dash-size"),
        pytest.param("DN12", "1/2 in", UNSURE, id="a-bore-that-the-table-lacks"),
        pytest.param("7/16-20", "-4", UNSURE, id="thread-of-a-fitting-of-unknown-form"),
        pytest.param("-6", "-8", DIFFERS, id="other-dash"),
        pytest.param('1½"', "5.5 in", DIFFERS, id="vulgar-fraction-is-no-numerator"),
        pytest.param("-6", "6 mm", DIFFERS, id="same-digits-other-family"),
        pytest.param("4 mm", "shell 4", DIFFERS, id="mm-and-shell"),
        pytest.param("8 mm", "5/16", DIFFERS, id="whole-mm-is-not-rounded"),
        pytest.param("10 mm", "3/8", DIFFERS, id="nearly-equal"),
        pytest.param("6", "-8", DIFFERS, id="no-family-other-digits"),
        pytest.param("10-32", "10-24", DIFFERS, id="other-thread"),
        pytest.param("M10x1", "M10x1.5", DIFFERS, id="other-pitch"),
        pytest.param("15", "E", DIFFERS, id="other-shell"),
        pytest.param("DN25", "2 in", DIFFERS, id="other-nominal-pipe"),
        pytest.param("15", "13-35", DIFFERS, id="insert-in-another-shell"),
        pytest.param("E", "15-35", DIFFERS, id="insert-and-another-letter"),
        pytest.param("D35", "15-19", DIFFERS, id="another-insert"),
        pytest.param("NPS 1", "DN50", DIFFERS, id="names-of-other-pipes"),
        pytest.param("NPS 1", "NPS 2", DIFFERS, id="another-pipe-size"),
        pytest.param("NPS 1", "2", DIFFERS, id="a-number-that-is-no-name-of-it"),
        pytest.param("DN25", "-8", DIFFERS, id="a-pipe-and-another-dash-size"),
        pytest.param("large", "small", DIFFERS, id="words"),
        pytest.param("AN-8", "AN-6", DIFFERS, id="same-words-other-number"),
        pytest.param("1 1/2 NPT", "1/2 NPT", DIFFERS, id="same-words-other-fraction"),
        pytest.param("3/8 in stainless", "1/2 in", DIFFERS, id="another-size-with-words"),
        pytest.param("-6 (alloy)", "-8", DIFFERS, id="words-beside-another-size"),
    ],
)
def test_compare(one, other, expected):
    assert compare(one, other).match is expected
    assert compare(other, one).match is expected


def test_the_reason_names_the_family():
    assert "needs" not in compare("-6", "-8").why
    why = compare("4 mm", "-4").why
    assert "4 is in mm" in why
    assert "-4 is a dash size" in why


@pytest.mark.parametrize(
    ("end", "thread", "expected"),
    [
        pytest.param("flare 37", "9/16-18", FITS, id="thread-of-the-fitting"),
        pytest.param("flare 37", "5/8-18", UNSURE, id="thread-of-the-other-angle"),
        pytest.param("flare 45", "5/8-18", UNSURE, id="known-from-memory-only"),
        pytest.param("flare 37", "3/4-16", DIFFERS, id="thread-of-another-size"),
    ],
)
def test_a_thread_and_a_dash_size_on_a_flare(end, thread, expected):
    assert compare("-6", thread, end).match is expected


@pytest.mark.parametrize(
    ("one", "other"),
    [("-6", "3/8"), ("-6", "9.525 mm"), ("15", "15"), ("-06", "-6"), ("D35", "15-35")],
)
def test_one_text_for_equal_sizes(one, other):
    assert canonical(one) == canonical(other)


@pytest.mark.parametrize(
    ("text", "shell"),
    [
        ("15", 15),
        ("D", 15),
        ("15-35", 15),
        ("D35", 15),
        ("-6", None),
        ("DN15", None),
        ("16", None),
        ("big", None),
    ],
)
def test_shell_of(text, shell):
    assert shell_of(text) == shell
