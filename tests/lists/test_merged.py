"""Cells merged down over several rows."""

import pytest

from joinmatrix.findings import Kind
from joinmatrix.lists.reader import read
from joinmatrix.verify import verify
from tests.lists.making import HEADINGS, adds_up, notes_of, troubles_of, workbook

UNMERGE = "unmerge the cells, and write it in each row that it is meant for"


def reading_of(tmp_path, text, *merges, **options):
    return read([file_of(tmp_path, text, *merges)], **options)


def file_of(tmp_path, text, *merges, **sheets):
    def edit(book):
        for cells in merges:
            book["S"].merge_cells(cells)

    return workbook(tmp_path / "a.xlsx", edit=edit, S=text, **sheets)


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("service", "sea water"),
        ("size", "DN50"),
        ("to end", "flange"),
        ("critical", "yes"),
        ("place", "before mate"),
        ("timing", "after mate"),
        ("inspect", "before lift"),
        ("closed by", "deck plates"),
    ],
)
def test_what_says_what_a_row_is_holds_for_every_row_of_the_merge(tmp_path, column, value):
    text = f"""
        {HEADINGS} | {column}
        H-1 | skid | L | pipe | {value}
        H-2 | skid | L | pipe |
        H-3 | skid | L | pipe |
        H-4 | skid | L | pipe |
    """
    reading = reading_of(tmp_path, text, "E2:E4")
    assert reading.tables[0].column(column) == [value, value, value, ""]
    assert notes_of(reading) == [f'{column} "{value}" is merged down to row 4 and read for each']
    assert not reading.troubles


def test_rules_of_stages_and_half_of_runs(tmp_path):
    stages = "stage | after\nlift | mate\nbolt up |\nclose |"
    reading = reading_of(tmp_path, stages, "B2:B3")
    assert reading.tables[0].column("after") == ["mate", "mate", ""]
    runs = "from | to | half\nA1 | B1 | fore\nA2 | B2 |"
    reading = reading_of(tmp_path, runs, "C2:C3")
    assert reading.tables[0].column("half") == ["fore", "fore"]


def test_a_rule_merged_down_binds_every_row(tmp_path):
    rows = """
        connection | joint | side | type | timing | closed by
        K-1 | ring | both | cable | after mate | cover
        K-2 | ring | both | hose | |
    """
    stages = "stage | after\nmate |\ncover | mate"
    record = "when | stage | act\n2031-03-01 | mate | done\n2031-03-02 | cover | started"
    path = file_of(tmp_path, rows, "E2:E3", "F2:F3", Stages=stages, Record=record)
    unmade = [each for each in verify([path]).findings if each.kind is Kind.UNMADE]
    assert {(each.connections, each.severity.value) for each in unmade} == {
        (("K-1",), "hold"),
        (("K-2",), "hold"),
    }


@pytest.mark.parametrize(
    ("column", "value", "meaning"),
    [
        ("limits", "torque 5..6 Nm", "limits"),
        ("Torque (Nm)", 5, "limits"),
        ("made", "x", "made"),
        ("made on", "2031-03-04", "made on"),
        ("inspected by", "QA 7", "inspected by"),
        ("from", "P1", "from"),
    ],
)
def test_limits_ticks_dates_and_signatures_are_not_spread(tmp_path, column, value, meaning):
    text = f"""
        {HEADINGS} | {column}
        H-1 | skid | L | pipe | {value}
        H-2 | skid | L | pipe |
        H-3 | skid | L | pipe |
    """
    reading = reading_of(tmp_path, text, "E2:E4")
    assert list(map(bool, reading.tables[0].column(meaning))) == [True, False, False]
    assert troubles_of(reading) == [
        (
            "E2",
            f'{meaning}: "{value}" is merged down (E2:E4); it was read for row 2 alone, for '
            "nothing tells whether each row has it",
        )
    ]
    (trouble,) = reading.troubles
    assert (trouble.joint, trouble.connections) == ("skid", ("H-2", "H-3"))
    assert [each.cell for each in trouble.others] == ["E3", "E4"]
    assert trouble.remedy == UNMERGE


def test_readings_of_a_record(tmp_path):
    text = """
        connection | side | act | measure | value | unit
        H-1 | L | measured | gap | 0.4 | mm
        | R | measured | gap | | mm
    """
    reading = reading_of(tmp_path, text, "A2:A3", "E2:E3")
    assert reading.tables[0].column("connection") == ["H-1", "H-1"]
    assert [at for at, _ in troubles_of(reading)] == ["E2"]


def test_a_tick_of_a_matrix(tmp_path):
    text = """
        connection | joint | type | LH | RH
        H-1 | skid | pipe | AB | AB
        H-2 | skid | pipe | | AB
    """
    reading = reading_of(tmp_path, text, "D2:D3")
    assert [(at, words.partition(" is ")[0]) for at, words in troubles_of(reading)] == [
        ("D2", 'made: "AB"')
    ]


def test_a_connection_over_the_rows_of_its_sides(tmp_path):
    text = f"""
        {HEADINGS}
        H-1 | skid | L | pipe
        | skid | R | pipe
        H-3 | skid | R | pipe
    """
    reading = reading_of(tmp_path, text, "A2:A3")
    assert reading.tables[0].column("connection") == ["H-1", "H-1", "H-3"]
    assert notes_of(reading) == ['connection "H-1" is merged down to row 3 and read for each']
    assert not reading.troubles
    assert adds_up(reading)


def test_a_connection_over_rows_of_one_side_is_listed_twice(tmp_path):
    text = f"{HEADINGS}\nH-1 | skid | C | pipe\n | skid | C | pipe"
    (finding,) = verify([file_of(tmp_path, text, "A2:A3")]).findings
    assert (finding.kind, finding.connections) == (Kind.DUPLICATE, ("H-1",))


def test_an_act_is_not_spread_over_rows(tmp_path):
    text = "act | connection | side\nmade | H-1 | L\n | H-1 | R"
    reading = reading_of(tmp_path, text, "A2:A3")
    assert [at for at, _ in troubles_of(reading)] == ["A3"]
    assert adds_up(reading)


def test_remarks_stay_with_the_first_row_and_hold_nothing_up(tmp_path):
    text = f"{HEADINGS} | remarks\nH-1 | skid | L | pipe | by crane\nH-2 | skid | L | pipe |"
    reading = reading_of(tmp_path, text, "E2:E3")
    assert reading.tables[0].column("remarks") == ["by crane", ""]
    assert notes_of(reading) == [
        "remarks: the cell is merged down to row 3, and kept with row 2 alone"
    ]
    assert not reading.troubles


def test_a_merge_over_rows_that_are_no_entries_is_nobodys_loss(tmp_path):
    text = f"""
        {HEADINGS} | limits
        H-1 | skid | L | pipe | gap 1..2 mm
        Total | | | |
        H-2 | skid | L | pipe | gap 1..2 mm
    """
    assert not reading_of(tmp_path, text, "E2:E3").troubles


def test_rows_under_a_merged_type_are_no_titles(tmp_path):
    text = """
        connection | type
        Ring joint, LH
        K-1 | cable
        K-2 |
        K-3 |
        Ring joint, RH
        K-1 | cable
    """
    reading = reading_of(tmp_path, text, "B3:B5")
    assert reading.tables[0].column("connection") == ["K-1", "K-2", "K-3", "K-1"]
    assert reading.tables[0].column("side") == ["L", "L", "L", "R"]
    assert reading.tables[0].column("type") == ["cable"] * 4


def test_many_merged_cells_do_not_flood_the_report(tmp_path):
    rows = [f"H-{n} | skid | L | pipe | gap 1..2 mm\nH-{n}a | skid | L | |" for n in range(60)]
    pairs = range(2, 122, 2)
    merges = [f"{column}{at}:{column}{at + 1}" for column in "DE" for at in pairs]
    reading = reading_of(tmp_path, "\n".join([f"{HEADINGS} | limits", *rows]), *merges)
    assert reading.tables[0].column("type") == ["pipe"] * 120
    assert len(reading.troubles) == 51
    assert reading.troubles[-1].found == "limits: 10 more merged cells like those above"
    assert notes_of(reading)[-1] == "type: 50 more merged cells were read for each of their rows"
