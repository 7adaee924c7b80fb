"""Titles and remarks where the entries of a list stand."""

import pytest

from joinmatrix.lists.reader import read
from tests.lists.making import HEADINGS, adds_up, separated, workbook

STAGES = "stage | after\ngear down |\nmate | gear down\n"


def entries_of(tmp_path, text):
    """The names in the first column of each list, and the row account's reasons."""
    reading = read([workbook(tmp_path / "a.xlsx", S=text)])
    assert adds_up(reading)
    assert not reading.troubles
    names = [list(next(iter(table.cells.values()))) for table in reading.tables]
    return names, [row for account in reading.accounts for row, _ in account.aside]


@pytest.mark.parametrize(
    ("below", "aside"),
    [
        pytest.param("|\nPrepared by: AB, 1 May", [5], id="prepared-by"),
        pytest.param("Prepared by: AB, 1 May", [4], id="without-a-gap"),
        pytest.param("|\nPrepared by: | AB\nDate: | 1 May", [5, 6], id="in-two-cells"),
        pytest.param("|\nNotes:\nTimes are in days", [5, 6], id="notes"),
        pytest.param("|\nNotes\n|\nTimes are in days", [5, 7], id="notes-apart"),
        pytest.param("|\nNote that times are in days", [5], id="note"),
        pytest.param("|\nRev. B\nPage 2 of 3", [5, 6], id="issue-and-page"),
        pytest.param("|\nTo be agreed:", [5], id="colon"),
        pytest.param("|\nEnd of list", [5], id="end"),
        pytest.param("|\nTools", [5], id="name-of-a-list"),
    ],
)
def test_what_stands_below_the_stages(tmp_path, below, aside):
    assert entries_of(tmp_path, STAGES + below) == ([["gear down", "mate"]], aside)


@pytest.mark.parametrize(
    "stage",
    [
        pytest.param("fairing", id="name"),
        pytest.param("|\nfairing", id="below-a-blank-row"),
        pytest.param("connections", id="named-like-a-list"),
        pytest.param("end", id="end"),
        pytest.param("dated fit", id="like-a-date"),
        pytest.param("fairing:", id="with-a-colon"),
        pytest.param("Notes\nfairing | mate", id="entries-follow"),
    ],
)
def test_a_name_alone_is_a_stage(tmp_path, stage):
    names, aside = entries_of(tmp_path, STAGES + stage)
    assert names[0][2:] == [line.partition(" |")[0] for line in stage.split("\n") if line != "|"]
    assert not aside


@pytest.mark.parametrize("blank", ["", "|\n"], ids=["straight-above", "apart"])
@pytest.mark.parametrize(
    ("first", "title"),
    [
        pytest.param("stage | after\nmate |", "Joints", id="stages"),
        pytest.param("person | may\nAB | make", "List of joints", id="people"),
        pytest.param("tool | calibrated until\nT1 | 2031-03-04", "Joints:", id="tools"),
        pytest.param("temporary item | joint\ncap 1 | hull", "Joints list", id="temporary"),
    ],
)
def test_the_title_of_the_next_list_is_no_entry(tmp_path, first, title, blank):
    text = f"{first}\n|\n{title}\n{blank}joint | alike sides\nhull | L, R"
    names, aside = entries_of(tmp_path, text)
    assert names == [[first.split("\n")[1].split(" |")[0]], ["hull"]]
    assert aside == [4]


def test_a_longer_title_straight_above_the_next_list(tmp_path):
    text = f"{STAGES}|\nThe joints of the hull\njoint | alike sides\nhull | L, R"
    assert entries_of(tmp_path, text) == ([["gear down", "mate"], ["hull"]], [5])


def test_a_section_of_stages_keeps_its_stages(tmp_path):
    text = f"{STAGES}|\nPhase 2:\nfairing\npaint"
    assert entries_of(tmp_path, text) == ([["gear down", "mate", "fairing", "paint"]], [5])


def test_remarks_below_temporary_items_are_not_fitted(tmp_path):
    text = "temporary item | joint | side\ncap 1 | hull | L\n|\nNotes\nCaps are red"
    assert entries_of(tmp_path, text) == ([["cap 1"]], [4, 5])


def test_remarks_with_numbers_below_connections(tmp_path):
    text = f"{HEADINGS}\nH-1 | hull | L | line\n|\nDate: 4 May 2031\nPage 2 of 3"
    assert entries_of(tmp_path, text) == ([["H-1"]], [4, 5])


def test_a_long_list_of_remarks_is_looked_through_once(tmp_path):
    # Looked at again for each of its rows, it would take minutes.
    text = "stage,after\nmate,\n" + "Note,\n" * 10_000 + "fairing,mate\n,\n" + "Page 1,\n" * 10_000
    reading = read([separated(tmp_path / "a.csv", text)])
    assert len(reading.tables[0].rows) == 10_002
    assert adds_up(reading)
