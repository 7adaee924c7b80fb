import pytest

from joinmatrix.lists.headings import (
    COLUMNS,
    DATE_COLUMNS,
    NEEDS,
    ROW_NEEDS,
    heading_key,
    without_brackets,
)
from joinmatrix.lists.reader import read
from joinmatrix.lists.table import ListKind
from tests.lists.making import workbook


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("connection", "connection"),
        (" Conn.\nNo. ", "connno"),
        ("Conn #", "connno"),
        ("P/N", "pn"),
        ("Ｓide", "side"),
        ("—", ""),
    ],
)
def test_heading_key(text, key):
    assert heading_key(text) == key


def test_brackets_are_set_apart():
    assert without_brackets("Torque (in-lbf)") == ("Torque", "in-lbf")
    assert without_brackets("Side [L/R] (both)") == ("Side", "L/R; both")
    assert without_brackets("Side") == ("Side", "")


@pytest.mark.parametrize("kind", ListKind)
def test_no_spelling_means_two_columns_of_a_list(kind):
    for strength in ("sure", "loose"):
        seen = {}
        for column, spellings in COLUMNS[kind].items():
            for key in getattr(spellings, strength):
                assert key, f"an empty spelling in {column}"
                assert seen.setdefault(key, column) == column, key


@pytest.mark.parametrize("kind", ListKind)
def test_every_list_knows_its_own_columns(kind):
    columns = COLUMNS[kind]
    for column, spellings in columns.items():
        assert heading_key(column) in spellings.sure
    for group in (*NEEDS[kind], *ROW_NEEDS[kind]):
        assert columns.keys() >= set(group)


def test_date_columns_are_columns():
    assert {name for columns in COLUMNS.values() for name in columns} >= DATE_COLUMNS


@pytest.mark.parametrize(("heading", "meaning"), [("Fitted", "made"), ("Installed by", "made by")])
def test_what_is_fitted_or_installed_is_made(tmp_path, heading, meaning):
    text = f"connection | joint | side | type | {heading}\nH-1 | hull | L | line | AB"
    (table,) = read([workbook(tmp_path / "a.xlsx", S=text)]).tables
    assert table.column(meaning) == ["AB"]
