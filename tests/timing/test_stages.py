"""Which stages there are, and on which sides."""

import pytest

from joinmatrix.assembly.model import Key
from joinmatrix.timing.stages import names_of, stages_of
from tests.builders import assembly_of, table


def keys(*tables):
    return sorted(f"{stage.key.name}/{stage.key.side}" for stage in stages_of(assembly_of(*tables)))


def connections(*rows):
    return table("connections", "connection|joint|side|type|timing|closed by\n" + "\n".join(rows))


def test_the_stages_list_decides():
    stages = table("stages", "stage|side|after\nwing mate|both|\ntail mate||wing mate")
    rows = connections("H-1|fin|L|line|after tial mate|")
    assert keys(rows, stages) == ["tail mate/", "wing mate/L", "wing mate/R"]


@pytest.mark.parametrize(
    ("rows", "record", "expected"),
    [
        pytest.param(["H-1|fin|L|line||"], [], [], id="no-rules"),
        pytest.param(
            ["H-1|fin|L|line|after Gear down|tail mate"],
            [],
            ["gear down/", "tail mate/"],
            id="names-of-rules",
        ),
        pytest.param(
            ["H-1|fin|L|line|after H-2|", "H-2|fin|L|line||"], [], [], id="connections-are-none"
        ),
        pytest.param(["H-1|fin|L|line||"], ["mate|"], ["mate/"], id="names-of-the-record"),
        pytest.param(
            ["H-1|fin|both|line|after mate|"],
            ["mate|both"],
            ["mate/L", "mate/R"],
            id="sides-of-the-record",
        ),
        pytest.param(
            ["H-1|fin|both|line|after mate|"],
            ["mate|L"],
            ["mate/L", "mate/R"],
            id="the-other-side-is-not-recorded-yet",
        ),
        pytest.param(
            ["H-1|fin|C|line|after mate|"], ["mate|L"], ["mate/L"], id="named-from-the-centre"
        ),
        pytest.param(
            ["H-1|fin|C|line|after mate L; after mate R|"],
            [],
            ["mate/L", "mate/R"],
            id="sides-behind-names",
        ),
        pytest.param(
            ["H-1|fin|L|line|after phase C|"], [], ["phase c/"], id="a-letter-that-is-no-side"
        ),
        pytest.param(
            ["H-1|fin|both|line|after mate|"],
            ["mate L|", "mate R|"],
            ["mate/L", "mate/R"],
            id="sides-behind-names-in-the-record",
        ),
        pytest.param(
            ["H-1|fin|L|line|after up and locked|"],
            ["up and locked|"],
            ["up and locked/"],
            id="the-record-knows-the-name",
        ),
    ],
)
def test_without_a_stages_list(rows, record, expected):
    tables = [connections(*rows)]
    if record:
        lines = [f"2026-03-04|started|{row}" for row in record]
        tables.append(table("record", "\n".join(["when|act|stage|side", *lines])))
    assert keys(*tables) == expected


def test_an_entry_under_a_name_with_its_side():
    record = table("record", "when|act|stage\n2026-03-04|done|mate L")
    names = names_of(assembly_of(connections("H-1|fin|both|line|after mate|"), record))
    assert names.keys_of_entry(Key("mate l", "")) == (Key("mate", "L"),)


def test_an_entry_without_a_side_is_for_every_side():
    stages = table("stages", "stage|side\nwing mate|both\ntail mate|")
    names = names_of(assembly_of(connections("H-1|fin|L|line||"), stages))
    assert names.keys_of_entry(Key("wing mate", "")) == (
        Key("wing mate", "L"),
        Key("wing mate", "R"),
    )
    assert names.keys_of_entry(Key("tail mate", "L")) == (Key("tail mate", ""),)
    assert names.keys_of_entry(Key("nose mate", "")) == ()
