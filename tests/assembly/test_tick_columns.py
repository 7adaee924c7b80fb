"""Tick sheets as files: what is taken for done, and what is asked about."""

import pytest

from joinmatrix.findings import Severity
from joinmatrix.verify import verify
from tests.lists.making import separated, workbook

HEADINGS = "connection,joint,side,type,made,made by,inspected\n"


def report_of(tmp_path, rows, *others):
    return verify([separated(tmp_path / "ticks.csv", HEADINGS + rows), *others])


def states(report):
    return {
        f"{each['connection']} {each['side']}": each["state"]
        for each in report.connections_frame().to_dict("records")
    }


def asked(report):
    """The cells that are asked about."""
    return {
        place.cell: finding.message
        for finding in report.findings
        if finding.kind == "unreadable" and finding.severity is Severity.HOLD
        for place in finding.places
    }


def test_a_refused_inspection_is_no_inspection(tmp_path):
    report = report_of(tmp_path, "H-1,hull,L,line,x,,FAIL\nH-1,hull,R,line,x,,CD\n")
    assert states(report) == {"H-1 L": "made", "H-1 R": "inspected"}
    assert asked(report) == {"G2": 'inspected "FAIL" tells of a refusal, and is no tick'}
    (finding,) = (each for each in report.findings if "FAIL" in each.message)
    assert "remarks" in finding.clears
    assert (finding.joint, finding.sides) == ("hull", ("L",))


@pytest.mark.parametrize("word", ["NIL", "TODO", "NOT", "OPEN", "N.A", "not yet"])
def test_a_word_that_says_not_done(tmp_path, word):
    report = report_of(tmp_path, f"H-1,hull,L,line,{word},,\nH-1,hull,R,line,x,,\n")
    assert states(report) == {"H-1 L": "listed", "H-1 R": "made"}
    assert not asked(report)


@pytest.mark.parametrize("word", ["HOLD", "TBC", "WIP", "REJ", "NOK", "L", "PORT", "N/K"])
def test_a_word_that_is_no_tick_is_asked_about(tmp_path, word):
    report = report_of(tmp_path, f"H-1,hull,L,line,{word},,\nH-1,hull,R,line,x,,\n")
    assert states(report) == {"H-1 L": "listed", "H-1 R": "made"}
    assert list(asked(report)) == ["E2"]


def test_a_person_of_the_people_list_may_have_any_initials(tmp_path):
    people = separated(tmp_path / "people.csv", "person,may\nDEL,make\nA. Berg,make\n")
    rows = "H-1,hull,L,line,DEL,,\nH-1,hull,R,line,A. Berg,,\nH-2,hull,both,line,TBC,,\n"
    report = report_of(tmp_path, rows, people)
    made = [name for name, state in states(report).items() if state == "made"]
    assert made == ["H-1 L", "H-1 R"]
    assert list(asked(report)) == ["E4"]
    assert not any(finding.kind == "unlisted" for finding in report.findings)


@pytest.mark.parametrize(
    ("cells", "state", "cell"),
    [
        pytest.param(",A. Berg,", "made", None, id="a-name"),
        pytest.param(",-,", "listed", None, id="a-dash-is-nobody"),
        pytest.param(",n/a,", "listed", None, id="not-applicable-is-nobody"),
        pytest.param(",TBD,", "listed", "F2", id="a-word-alone-is-no-tick"),
        pytest.param("x,-,", "made", None, id="ticked-by-nobody-named"),
        pytest.param("x,TBD,", "made", "F2", id="ticked-and-a-word-for-a-name"),
        pytest.param("no,-,", "listed", None, id="not-done-by-nobody"),
        pytest.param("no,A. Berg,", "listed", "E2", id="not-done-and-signed"),
    ],
)
def test_what_stands_for_the_name(tmp_path, cells, state, cell):
    report = report_of(tmp_path, f"H-1,hull,L,line,{cells}\nH-1,hull,R,line,x,,\n")
    assert states(report)["H-1 L"] == state
    assert list(asked(report)) == ([cell] if cell else [])


def test_nobody_is_no_person(tmp_path):
    people = separated(tmp_path / "people.csv", 'person,may\nA. Berg,"make, inspect"\n')
    rows = "H-1,hull,both,control rod,x,n/a,x\n"
    report = report_of(tmp_path, rows, people)
    assert not {"unlisted", "self-inspected"} & {finding.kind for finding in report.findings}


def test_what_was_taken_for_initials_is_said(tmp_path):
    marks = ("AB", "CD", "EF", "GH", "JK", "MN", "X", "done", "AB 2031-03-04", "QR")
    rows = "".join(f"H-{at},hull,both,line,{mark},,\n" for at, mark in enumerate(marks))
    report = report_of(tmp_path, rows)
    (note,) = (words for _, words in report.assembly.notes if "initials" in words)
    assert note == (
        'made: "AB", "CD", "EF", "GH" and "JK", and 2 more, were taken for the initials of who '
        "did it"
    )


@pytest.mark.parametrize(
    ("row", "state", "cells"),
    [
        pytest.param("P-1,rack,A,pipe,AB,,", "made", [], id="initials"),
        pytest.param("P-1,rack,A,pipe,B,,", "listed", ["E2"], id="declared-side"),
        pytest.param("P-1,rack,both,pipe,A,,", "listed", ["E2"], id="one-side-of-both"),
        pytest.param("P-1,hub,1,pipe,1,,", "made", [], id="a-tick-in-a-row-of-one-side"),
        pytest.param("P-1,hub,all,pipe,1,,", "listed", ["E2"], id="a-tick-or-a-side"),
        pytest.param("P-1,rack,both,pipe,1,,", "made", [], id="no-side-of-this-joint"),
    ],
)
def test_the_name_of_a_declared_side_is_no_tick(tmp_path, row, state, cells):
    joints = separated(tmp_path / "joints.csv", 'joint,alike sides\nrack,"A, B"\nhub,"1, 2, 3"\n')
    report = report_of(tmp_path, row + "\n", joints)
    assert set(states(report).values()) == {state}
    assert list(asked(report)) == cells


def test_a_side_as_the_mark_of_a_joint_makes_no_side(tmp_path):
    matrix = """
        connection | type | side | rear frame | tail cone
        H-1 | line | both | x |
        H-2 | line | both | | L
        H-3 | line | both | | x
    """
    joints = "joint | alike sides\nrear frame | L, R\ntail cone | L, R"
    report = verify([workbook(tmp_path / "matrix.xlsx", S=matrix, J=joints)])
    assert len(states(report)) == 6
    assert set(states(report).values()) == {"listed"}
    assert list(asked(report)) == ["E3"]


def test_a_word_that_is_no_tick_stays_in_a_matrix_of_joints(tmp_path):
    matrix = "connection | type | side | tail | fin\nH-1 | line | L | x | \nH-2 | line | L | | REJ"
    joints = "joint | alike sides\ntail | L, R\nfin | L, R"
    report = verify([workbook(tmp_path / "matrix.xlsx", S=matrix, J=joints)])
    assert states(report) == {"H-1 L": "listed", "H-2 L": "listed"}
    assert list(asked(report)) == ["E3"]


def times(report):
    return [each["made"] for each in report.connections_frame().to_dict("records")]


@pytest.mark.parametrize(
    ("ticks", "made"),
    [
        pytest.param(["25/03/2031", "04/03/2031"], ["2031-03-25", "2031-03-04"], id="day-first"),
        pytest.param(["03/25/2031", "04/03/2031"], ["2031-03-25", "2031-04-03"], id="month-first"),
        pytest.param(["4.3.2031", "5.3.2031"], ["2031-03-04", "2031-03-05"], id="dots"),
        pytest.param(["AB 25/03/2031", "04/03/2031 / CD"], ["2031-03-25", "2031-03-04"], id="by"),
        pytest.param(["45-03-25", "x 31-03-04"], ["2045-03-25", "2031-03-04"], id="year-first"),
        pytest.param(["25/03/2031", "4/3/2031 10:30"], ["2031-03-25", "2031-03-04 10:30"], id="at"),
    ],
)
def test_dates_in_ticks_are_decided_for_the_column(tmp_path, ticks, made):
    rows = "".join(
        f"H-1,hull,{side},line,{mark},,\n" for side, mark in zip("LR", ticks, strict=True)
    )
    report = report_of(tmp_path, rows)
    assert times(report) == made
    assert not asked(report)
    assert sum("dates such as" in words for _, words in report.reading.notes) == 1


@pytest.mark.parametrize(
    ("ticks", "orders"),
    [
        pytest.param(["x", "04/03/2031"], "day or month", id="nothing-tells"),
        pytest.param(["25/03/2031", "03/25/2031", "AB 4/3/2031"], "day or month", id="both"),
        pytest.param(["x", "31-03-04"], "day or year", id="two-digits"),
    ],
)
def test_a_date_in_a_tick_that_no_other_decides_is_asked_about(tmp_path, ticks, orders):
    rows = "".join(f"H-{at},hull,both,line,{mark},,\n" for at, mark in enumerate(ticks))
    report = report_of(tmp_path, rows)
    ((cell, message),) = asked(report).items()
    assert cell == f"E{len(ticks) + 1}"
    assert message == (
        f'made "{ticks[-1]}" could be {orders} first, and the column does not tell which'
    )
