"""The record and the ticks to acts."""

import pytest

from joinmatrix.assembly.moments import minutes_text
from joinmatrix.errors import CallError
from tests.builders import assembly_of, table

CONNECTIONS = table(
    "connections", "connection|joint|side|type\nH-1|fin|both|line\nH-2|fin|C|line\nH-3|fin|L|line"
)
RECORD = "when|connection|stage|item|side|act|by|seq|unit serial\n"


def acts(assembly) -> list[str]:
    return [
        f"{entry.name} {entry.key.side} {entry.act} {entry.when.text}".replace("  ", " ").strip()
        for entry in assembly.entries
    ]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param("2031-03-04|H-1|||L|made", ["H-1 L made 2031-03-04"], id="a-date"),
        pytest.param(
            "2031-03-04T10:30|h-1|||lh|Made", ["h-1 L made 2031-03-04 10:30"], id="date-and-time"
        ),
        pytest.param("|H-2||||made", ["H-2 C made"], id="only-one-side-to-mean"),
        pytest.param("|H-1|||both|made", ["H-1 L made", "H-1 R made"], id="both-sides"),
        pytest.param("||gear down|||done", ["gear down done"], id="stage"),
        pytest.param("|||red cap||removed", ["red cap removed"], id="item"),
        pytest.param("|H-9|||L|made", ["H-9 L made"], id="unlisted-is-kept-for-the-check"),
        pytest.param("|H-2|gear down|||made", ["H-2 C made"], id="the-act-says-which-is-meant"),
        pytest.param("|H-2|gear down|||done", ["gear down done"], id="and-so-for-a-stage"),
    ],
)
def test_entries(row, expected):
    assembly = assembly_of(CONNECTIONS, table("record", RECORD + row))
    assert acts(assembly) == expected
    assert assembly.troubles == ()


@pytest.mark.parametrize(
    ("row", "cell", "says"),
    [
        pytest.param("|H-1||||made", "E2", '"L" or "R"', id="which-side"),
        pytest.param("|H-1|||Q|made", "E2", "both", id="no-such-side"),
        pytest.param("|H-1|||L|welded", "F2", '"placed", "made"', id="no-such-act"),
        pytest.param("|H-1|||L|", "F2", "made", id="no-act"),
        pytest.param("|H-1|||L|started", "F2", "stage", id="act-of-a-stage"),
        pytest.param("|||||made", "F2", "connection", id="of-what"),
    ],
)
def test_an_entry_that_cannot_be_understood_is_set_aside(row, cell, says):
    assembly = assembly_of(CONNECTIONS, table("record", RECORD + row))
    assert assembly.entries == ()
    assert [trouble.place.cell for trouble in assembly.troubles] == [cell]
    assert says in assembly.troubles[0].remedy
    assert len(assembly.aside) == 1


def test_a_seq_that_is_no_number_is_reported_and_the_entry_kept():
    assembly = assembly_of(CONNECTIONS, table("record", RECORD + "|H-2||||made||first"))
    assert [trouble.place.cell for trouble in assembly.troubles] == ["H2"]
    assert len(assembly.entries) == 1


def test_a_stage_without_a_side_means_every_side_that_the_list_has():
    assembly = assembly_of(
        CONNECTIONS,
        table("stages", "stage|side|timing\nwing mate|both|"),
        table("record", RECORD + "||Wing Mate|||done\n||wing mate L|||started"),
    )
    assert acts(assembly) == ["Wing Mate L done", "Wing Mate R done", "wing mate L L started"]


def test_rows_of_one_act_and_time_are_one_act():
    rows = "2031-03-04 |H-1|||L|made|AB\n2031-03-04|H-1|||L|made|AB\n2031-03-05|H-1|||L|made|AB"
    assembly = assembly_of(CONNECTIONS, table("record", RECORD + rows))
    assert acts(assembly) == ["H-1 L made 2031-03-04", "H-1 L made 2031-03-05"]
    assert [len(entry.rows) for entry in assembly.entries] == [2, 1]


def test_one_date_with_running_numbers_and_an_opening_between_is_two_acts():
    rows = "2031-03-04|H-1|||L|{}||{}"
    acts_of_day = [("made", 1), ("made", 2), ("opened", 3), ("made", 4)]
    text = "\n".join(rows.format(act, seq) for act, seq in acts_of_day)
    assembly = assembly_of(CONNECTIONS, table("record", RECORD + text))
    assert acts(assembly) == [f"H-1 L {act} 2031-03-04" for act in ("made", "opened", "made")]
    assert [len(entry.rows) for entry in assembly.entries] == [2, 1, 1]


TICKS = "connection|joint|side|type|made|made by|made on|inspected|inspected by\n"


@pytest.mark.parametrize(
    ("cells", "expected"),
    [
        pytest.param("", [], id="blank"),
        pytest.param("no", [], id="no"),
        pytest.param("x", ["H-1 L made"], id="tick"),
        pytest.param("|AB|2031-03-04", ["H-1 L made 2031-03-04"], id="dated-and-signed-only"),
        pytest.param("2031-03-04", ["H-1 L made 2031-03-04"], id="date-for-a-tick"),
        pytest.param("x||2031-03-04|x|CD", ["H-1 L made 2031-03-04", "H-1 L inspected"], id="both"),
    ],
)
def test_ticks(cells, expected):
    assembly = assembly_of(table("connections", TICKS + f"H-1|fin|L|line|{cells}"))
    assert acts(assembly) == expected
    assert assembly.plan_only is (not expected)
    assert assembly.troubles == ()


@pytest.mark.parametrize(
    ("cells", "cell"),
    [
        pytest.param("perhaps", "E2", id="no-tick-word"),
        pytest.param("no|AB", "E2", id="not-made-and-yet-signed"),
        pytest.param("2031-03-04||2031-03-05", "E2", id="two-dates"),
    ],
)
def test_a_tick_that_cannot_be_understood(cells, cell):
    assembly = assembly_of(table("connections", TICKS + f"H-1|fin|L|line|{cells}"))
    assert assembly.entries == ()
    assert [trouble.place.cell for trouble in assembly.troubles] == [cell]


@pytest.mark.parametrize(
    ("tick", "conflict"),
    [
        pytest.param("x||", None, id="undated-tick"),
        pytest.param("x|AB|2031-03-04", None, id="same-day"),
        pytest.param("x||2031-03-05", "made on", id="another-day"),
        pytest.param("x|CD|2031-03-04", "made by", id="another-name"),
    ],
)
def test_a_tick_and_an_entry_of_one_act_are_one_act(tick, conflict):
    assembly = assembly_of(
        table("connections", TICKS + f"H-1|fin|L|line|{tick}"),
        table("record", RECORD + "2031-03-04T09:00|H-1|||L|made|AB"),
    )
    assert acts(assembly) == ["H-1 L made 2031-03-04 09:00"]
    assert [each.column for each in assembly.conflicts] == ([conflict] if conflict else [])


@pytest.mark.parametrize(
    ("tick", "opened", "twice"),
    [
        pytest.param("2026-03-04", "2026-03-06T08:00", True, id="tick-opened-entry"),
        pytest.param("2026-03-04", "2026-03-06", True, id="on-the-day-of-the-entry"),
        pytest.param("2026-03-09", "2026-03-07", True, id="entry-opened-tick"),
        pytest.param("2026-03-04", "2026-03-07", False, id="opened-after-both"),
        pytest.param("2026-03-09", "2026-03-06T08:00", False, id="opened-before-both"),
        pytest.param("2026-03-04", "", False, id="opened-on-an-unknown-day"),
    ],
)
def test_a_tick_and_an_entry_with_an_opening_between_are_two_acts(tick, opened, twice):
    assembly = assembly_of(
        table("connections", TICKS + f"H-1|fin|L|line|x||{tick}"),
        table("record", RECORD + f"2026-03-06T09:00|H-1|||L|made|AB\n{opened}|H-1|||L|opened|AB"),
    )
    assert len(assembly.entries) == (3 if twice else 2)
    assert [each.column for each in assembly.conflicts] == ([] if twice else ["made on"])


def test_ticks_of_two_lists_with_different_dates_are_a_conflict():
    one = table("connections", TICKS + "H-1|fin|L|line|x||2031-03-04", file="one.xlsx")
    two = table("connections", TICKS + "H-1|fin|L|line|x||2031-03-05", file="two.xlsx")
    assembly = assembly_of(one, two)
    assert len(assembly.entries) == 1
    (conflict,) = assembly.conflicts
    assert [str(place) for _, place in conflict.values] == [
        "one.xlsx: Sheet!E2",
        "two.xlsx: Sheet!E2",
    ]


UNITS = table("record", RECORD + "|H-2||||made|||SN-1\n|H-2||||made|||SN-2\n|H-3||||made|||\n")


def test_several_units_need_a_choice():
    with pytest.raises(CallError, match=r'"SN-1" and "SN-2".*--unit'):
        assembly_of(CONNECTIONS, UNITS)


def test_a_unit_that_is_not_in_the_record():
    with pytest.raises(CallError, match="SN-7"):
        assembly_of(CONNECTIONS, UNITS, unit="SN-7")


def test_the_chosen_unit_alone_counts_and_every_other_row_is_accounted_for():
    assembly = assembly_of(CONNECTIONS, UNITS, unit="sn-2")
    assert acts(assembly) == ["H-2 C made"]
    assert assembly.unit == "SN-2"
    assert sorted(why for _, why in assembly.aside) == [
        'another unit: "SN-1"',
        "this entry has no unit serial, and the record holds several units",
    ]


def test_as_of_is_the_latest_time_of_the_record():
    record = table("record", RECORD + "2031-03-04|H-2||||made\n2031-03-03T12:00|H-3||||made")
    assert minutes_text(assembly_of(CONNECTIONS, record).as_of) == "2031-03-04 00:00"
    assert minutes_text(assembly_of(CONNECTIONS, as_of="2031-03-06").as_of) == "2031-03-06 23:59"
    assert assembly_of(CONNECTIONS).as_of is None


def test_as_of_that_is_no_time():
    with pytest.raises(CallError, match="not a time"):
        assembly_of(CONNECTIONS, as_of="soon")
