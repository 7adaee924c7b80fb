"""Readings held against limits: which reading counts, and what it comes to."""

import subprocess
import sys
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from joinmatrix.readings import faults, judged
from joinmatrix.readings.units import converted, read_unit
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|limits\nH-1|fin|{side}|line|{limits}"
RECORD = "when|seq|connection|side|act|measure|value|unit|tool|extension|wrench length\n"


def assembly(limits, *rows, side="C"):
    """One connection with these limits, and rows of the record without their identifier."""
    lists = [table("connections", LIST.format(side=side, limits=limits))]
    if rows:
        lists.append(table("record", RECORD + "\n".join(rows)))
    return assembly_of(*lists)


def made(measure="", value="", unit="", extension="", wrench="", when="2026-03-04"):
    return f"{when}||H-1|C|made|{measure}|{value}|{unit}||{extension}|{wrench}"


def act(word, when, measure="", value="", unit="", seq=""):
    return f"{when}|{seq}|H-1|C|{word}|{measure}|{value}|{unit}||"


def outcomes(found):
    return [each.outcome.value for each in judged(found)]


def test_nothing_is_judged_before_it_is_made():
    assert judged(assembly("torque 135..150 in-lbf")) == ()
    found = assembly("torque 135..150 in-lbf", act("measured", "2026-03-04", "torque", "10", "psi"))
    assert judged(found) == ()
    assert faults(found) == ()


@pytest.mark.parametrize(
    ("limits", "reading", "expected"),
    [
        pytest.param("135..150 in-lbf", ("", "142", "in-lbf"), "within", id="in-range"),
        pytest.param("135..150 in-lbf", ("", "135", "in lb"), "within", id="at-the-bound"),
        pytest.param("135..150 in-lbf", ("", "150.1", "in-lbf"), "outside", id="just-above"),
        pytest.param("135..150 in-lbf", ("", "134.9", "in-lbf"), "outside", id="just-below"),
        pytest.param("135..150 in-lbf", ("", "142 in-lbf", ""), "within", id="unit-with-value"),
        pytest.param("> 5 mm", ("", "5", "mm"), "outside", id="the-bound-is-outside"),
        pytest.param("torque 135..150 in-lbf", ("", "142", "in-lbf"), "within", id="only-measure"),
        pytest.param("135..150 in-lbf", ("torque", "142", "in-lbf"), "within", id="no-measure"),
        pytest.param("threads >= 1", ("thread", "2", ""), "within", id="plural"),
        pytest.param("threads >= 1", ("threads", "2", "threads"), "within", id="unit-is-measure"),
        pytest.param(">= 3 threads", ("threads", "2", ""), "outside", id="counted-in-the-limit"),
        pytest.param("3..5 clicks", ("", "4", "clicks"), "within", id="unknown-unit"),
        pytest.param("slot = aft", ("slot", "Aft", ""), "within", id="text"),
        pytest.param("slot = aft", ("slot", "fwd", ""), "outside", id="other-text"),
        pytest.param("wired = yes", ("wired", "TRUE", ""), "within", id="yes-and-true"),
        pytest.param("wired = yes", ("wired", "no", ""), "outside", id="yes-and-no"),
        pytest.param("turns = 3", ("turns", "3.0", ""), "within", id="number-equality"),
        pytest.param("15.3..17 N·m", ("", "142", "in-lbf"), "within", id="other-unit"),
        pytest.param("15.3..17 N·m", ("", "152", "in-lbf"), "outside", id="other-unit-outside"),
        pytest.param(">= 100 Mohm", ("", "> 500", "Mohm"), "within", id="beyond-instrument"),
        pytest.param("<= 2.5 mohm", ("", "< 1", "mohm"), "within", id="below-instrument"),
        pytest.param("1..2 mm", ("", "> 5", "mm"), "outside", id="beyond-and-outside"),
    ],
)
def test_one_reading(limits, reading, expected):
    found = assembly(limits, made(*reading))
    assert faults(found) == ()
    assert outcomes(found) == [expected]


@pytest.mark.parametrize(
    ("value", "unit", "limits", "expected"),
    [
        # 150 in-lbf is 16.948 N·m; written as 16.9 or 17 it stands for 150 as well.
        ("16.9", "N·m", "135..150 in-lbf", "within"),
        ("17", "N·m", "135..150 in-lbf", "within"),
        ("17.0", "N·m", "135..150 in-lbf", "outside"),
        ("17.00", "N·m", "135..150 in-lbf", "outside"),
        ("18", "N·m", "135..150 in-lbf", "outside"),
        # The same digits in the unit of the limit are compared as they stand.
        ("150.4", "in-lbf", "135..150 in-lbf", "outside"),
    ],
)
def test_half_a_unit_of_the_last_digit_for_what_is_worked_out(value, unit, limits, expected):
    assert outcomes(assembly(limits, made("", value, unit))) == [expected]


@pytest.mark.parametrize(
    ("value", "extension", "wrench", "expected"),
    [
        ("117.39", "1.5 in", "10 in", "within"),  # 135 at the nut
        ("117.3", "1.5 in", "10 in", "outside"),
        ("142", "1.5 in", "10 in", "outside"),  # 163 at the nut
        ("158.82", "-1.5 in", "10 in", "within"),
        ("142", "4 in at 90°", "10 in", "within"),
        ("142", "none", "", "within"),
    ],
)
def test_torque_through_an_extension(value, extension, wrench, expected):
    found = assembly("torque 135..150 in-lbf", made("torque", value, "in-lbf", extension, wrench))
    assert outcomes(found) == [expected]


def test_an_extension_is_said():
    limits = "torque 135..150 in-lbf"
    found = judged(assembly(limits, made("torque", "142", "in-lbf", "1.5 in", "10 in")))
    assert found[0].said == (
        "142 in-lbf, which with the extension is at the nut 163.3 in-lbf (± 0.6 for its last digit)"
    )


def test_an_extension_changes_no_length():
    found = assembly("gap 1..2 mm", made("gap", "1.5", "mm", "4 in", "10 in"))
    assert outcomes(found) == ["within"]


@pytest.mark.parametrize(
    ("limits", "reading", "found", "cells"),
    [
        pytest.param(
            "135..150 in-lbf", ("", "ok", ""), '"ok" is not a number', ["G2"], id="no-number"
        ),
        pytest.param(
            "135..150 in-lbf", ("", "142", "psi"), "measures pressure", ["H2", "E2"],
            id="wrong-dimension",
        ),
        pytest.param("135..150 in-lbf", ("", "142", ""), "has no unit", ["G2", "E2"], id="no-unit"),
        pytest.param(
            "torque 135..150", ("torque", "142", "in-lbf"), "limit \"torque 135..150\" has no unit",
            ["E2", "H2"], id="limit-without-unit",
        ),
        pytest.param("1..2 mm", ("", "1", "clicks"), "no unit that is known", ["H2", "E2"], id="?"),
        pytest.param("1..2 Mohm", ("", "1", "MOHM"), "megaohm or milliohm", ["H2"], id="capitals"),
        pytest.param("1..2 N", ("", "1,500", "N"), "1.500 or 1500", ["G2"], id="two-readings"),
        pytest.param("1..2 mm", ("", "1 in", "mm"), 'is in "in"', ["G2", "H2"], id="two-units"),
        pytest.param(
            "1..2 Mohm", ("", "> 1.5", "Mohm"), "does not show whether", ["G2", "E2"], id="open-end"
        ),
    ],
)  # fmt: skip
def test_fault_of_a_reading(limits, reading, found, cells):
    assembly_ = assembly(limits, made(*reading))
    (trouble,) = faults(assembly_)
    assert found in trouble.found
    assert [each.cell for each in (trouble.place, *trouble.others)] == cells
    assert trouble.connections == ("H-1",)
    assert trouble.sides == ("C",)
    assert trouble.joint == "fin"
    assert trouble.holds
    assert outcomes(assembly_) == ["unreadable"]


def test_fault_of_an_extension_names_its_cell():
    found = assembly("135..150 in-lbf", made("", "142", "in-lbf", "4 in", ""))
    (trouble,) = faults(found)
    assert "length of the wrench" in trouble.found
    assert trouble.place.cell == "J2"


def test_an_unnamed_reading_among_several_limits_is_asked_about_once():
    limits = "torque 135..150 in-lbf; threads >= 1"
    found = assembly(limits, made("", "142", "in-lbf"), made("threads", "2"))
    (trouble,) = faults(found)
    assert "does not say what was measured" in trouble.found
    assert outcomes(found) == ["within"]  # of the threads; torque may be the unnamed one


def test_a_limit_without_measure_takes_what_no_other_asks_for():
    limits = "135..150 in-lbf; threads >= 1"
    found = assembly(limits, made("torque", "142", "in-lbf"), made("threads", "2"))
    assert faults(found) == ()
    assert outcomes(found) == ["within", "within"]


def test_a_limit_without_measure_is_not_held_against_another_quantity():
    found = assembly("135..150 in-lbf", made("torque", "142", "in-lbf"), made("gap", "2", "mm"))
    assert faults(found) == ()
    assert outcomes(found) == ["within"]


# --- which reading counts ---


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        pytest.param(
            [made("", "100", "in-lbf"), act("measured", "2026-03-05", "", "142", "in-lbf")],
            ["within"], id="the-latest",
        ),
        pytest.param(
            [act("measured", "2026-03-05", "", "142", "in-lbf"), made("", "100", "in-lbf")],
            ["within"], id="the-latest-whatever-the-order-of-the-rows",
        ),
        pytest.param(
            [made("", "142", "in-lbf"), made("", "160", "in-lbf")],
            ["within", "outside"], id="both-of-one-making",
        ),
        pytest.param(
            [made("", "142", "in-lbf"), act("opened", "2026-03-05"), act("made", "2026-03-06")],
            ["missing"], id="opened-and-made-again",
        ),
        pytest.param(
            [made("", "142", "in-lbf"), act("made", "2026-03-06")], ["missing"], id="made-again",
        ),
        pytest.param(
            [act("measured", "2026-03-03", "", "142", "in-lbf"), made()], ["missing"],
            id="measured-the-day-before",
        ),
        pytest.param(
            [made(when="2026-03-04T10:30"), act("measured", "2026-03-04", "", "142", "in-lbf")],
            ["within"], id="measured-on-the-day-of-a-timed-making",
        ),
        pytest.param(
            [made("", "100", "in-lbf", when="2026-03-04T10:30"),
             act("measured", "2026-03-04", "", "142", "in-lbf")],
            ["within"], id="on-one-day-measuring-comes-after-making",
        ),
        pytest.param(
            [act("measured", "2026-03-04", "", "142", "in-lbf", seq="1"),
             act("made", "2026-03-04", seq="2")],
            ["missing"], id="the-running-number-puts-it-before",
        ),
        pytest.param(
            [made(), act("inspected", "2026-03-05", "", "142", "in-lbf")], ["within"],
            id="the-inspector-measured",
        ),
    ],
)  # fmt: skip
def test_which_reading_counts(rows, expected):
    assert outcomes(assembly("135..150 in-lbf", *rows)) == expected


def test_limits_on_which_two_lists_disagree_are_left_to_the_conflict():
    found = assembly_of(
        table("connections", LIST.format(side="C", limits="1..2 mm"), file="one.xlsx"),
        table("connections", LIST.format(side="C", limits="3..4 mm"), file="two.xlsx"),
        table("record", RECORD + made("", "9", "mm")),
    )
    assert judged(found) == ()


def test_limit_that_is_not_understood_is_one_fault_for_all_rows_that_repeat_it():
    text = (
        "connection|joint|side|type|limits\n"
        "H-1|fin|both|line|as per drawing\nH-2|fin|L|line|as per drawing\nH-3|tail|L|line|1..2 mm"
    )
    (trouble,) = faults(assembly_of(table("connections", text)))
    assert [each.cell for each in (trouble.place, *trouble.others)] == ["E2", "E3"]
    assert trouble.connections == ("H-1", "H-2")
    assert trouble.sides == ("L", "R")


def test_a_reading_of_both_sides_is_one_fault():
    record = RECORD + "2026-03-04||H-1|both|made||ok|||"
    lists = table("connections", LIST.format(side="both", limits="1..2 mm"))
    (trouble,) = faults(assembly_of(lists, table("record", record)))
    assert trouble.sides == ("L", "R")


def test_range_of_a_tool_that_is_no_number():
    found = assembly_of(
        table("connections", LIST.format(side="C", limits="")),
        table("tools", "tool|calibrated until|low|high|unit\nTW-3|2026-12-31|some|150|in-lbf"),
    )
    (trouble,) = faults(found)
    assert trouble.place.cell == "C2"
    assert trouble.items == ("TW-3",)


# --- properties ---


@settings(max_examples=100, deadline=None)
@given(
    st.decimals(1, 500, places=1),
    st.decimals(1, 500, places=1),
    st.decimals(1, 500, places=1),
    st.sampled_from([("in-lbf", "N·m"), ("ft-lbf", "in-lbf"), ("psi", "bar"), ("mm", "in")]),
)
def test_another_unit_changes_no_verdict(value, low, step, units):
    """A reading written in another unit, to its last digit, says what it said in the first."""
    mine, theirs = units
    limits = f"{low}..{low + step} {mine}"
    assume(value not in (low, low + step))  # at a bound the last digit decides
    other = converted(Fraction(value), read_unit(mine), read_unit(theirs))
    written = f"{float(other):.9f}"
    same = outcomes(assembly(limits, made("", str(value), mine)))
    assert outcomes(assembly(limits, made("", written, theirs))) == same


def test_the_units_library_is_loaded_only_for_another_unit():
    code = """
import sys
from tests.readings.test_judge import assembly, made, judged
judged(assembly("135..150 in-lbf", made("", "142", "in lb", "1.5 in", "10 in")))
assert "pint" not in sys.modules
judged(assembly("135..150 in-lbf", made("", "16", "N·m")))
assert "pint" in sys.modules
"""
    subprocess.run([sys.executable, "-c", code], check=True)
