"""Digests of inputs, and tracing what has changed."""

import hashlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.answers.seals import (
    FileSeal,
    Seals,
    TableSeal,
    changes,
    changes_of_files,
    seal_files,
    seal_tables,
)
from tests.builders import table


def test_a_file_has_the_digest_of_its_bytes(tmp_path):
    path = tmp_path / "lines.csv"
    path.write_bytes(b"connection,joint\n" * 100_000)
    (seal,) = seal_files([path])
    assert seal.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert seal.size == path.stat().st_size


def test_row_digests_do_not_depend_on_the_order_of_columns_or_on_blank_ones():
    (one,) = seal_tables([table("connections", "connection|joint|part\nH-1|fin|")])
    (other,) = seal_tables([table("connections", "joint|connection\nfin|H-1")])
    assert one.rows == other.rows


@pytest.mark.parametrize(
    "text",
    ["connection|joint\nH-2|fin", "connection|joint\nH-1|", "connection|type\nH-1|fin"],
)
def test_another_value_is_another_digest(text):
    (one,) = seal_tables([table("connections", "connection|joint\nH-1|fin")])
    (other,) = seal_tables([table("connections", text)])
    assert set(one.rows.values()).isdisjoint(other.rows.values())


def seals(**files):
    """Seals of files that each hold one list with these rows."""
    return Seals(
        tuple(FileSeal(name, str(rows), 1) for name, rows in files.items()),
        tuple(
            TableSeal(name, "", "connections", dict(enumerate(rows, 2)))
            for name, rows in files.items()
        ),
    )


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        pytest.param("abc", "abc", [], id="same"),
        pytest.param("abc", "abd", ["row 4 is not as it was"], id="altered"),
        pytest.param("abc", "axbc", ["row 3 is new"], id="inserted"),
        pytest.param("abc", "ac", ["what was row 3 is gone"], id="dropped"),
        pytest.param("abc", "cab", ["the rows stand in another order"], id="moved"),
        pytest.param("aab", "aaab", ["row 4 is new"], id="one-more-of-the-same"),
        pytest.param(
            "abc", "xbd", ["row 2 is not as it was", "row 4 is not as it was"], id="two-altered"
        ),
    ],
)
def test_changed_rows(old, new, expected):
    assert [each.what for each in changes(seals(one=old), seals(one=new))] == expected


@settings(max_examples=200)
@given(
    st.lists(st.integers(0, 50), min_size=1, max_size=30, unique=True),
    st.data(),
)
def test_one_altered_row_is_the_one_named(rows, data):
    at = data.draw(st.integers(0, len(rows) - 1))
    altered = [*rows[:at], 99, *rows[at + 1 :]]
    found = changes(seals(one=rows), seals(one=altered))
    assert [(each.row, each.what) for each in found] == [(at + 2, f"row {at + 2} is not as it was")]


@settings(max_examples=200)
@given(st.lists(st.integers(0, 5), max_size=20), st.lists(st.integers(0, 5), max_size=20))
def test_no_change_is_told_exactly_when_there_is_none(old, new):
    found = changes(seals(one=old), seals(one=new))
    assert bool(found) == (old != new)


def test_names_of_another_machine():
    old = seals(**{"lists/a/lines.csv": "ab", "lists/b/lines.csv": "cd"})
    new = seals(**{"/mnt/x/b/lines.csv": "cd", "/mnt/x/a/lines.csv": "ab"})
    assert changes(old, new) == ()
    altered = seals(**{"/mnt/x/b/lines.csv": "cx", "/mnt/x/a/lines.csv": "ab"})
    (change,) = changes(old, altered)
    assert (change.file, change.row) == ("/mnt/x/b/lines.csv", 3)


def test_files_missing_and_new():
    found = changes(seals(one="ab", two="cd"), seals(one="ab", three="ef"))
    assert [(each.file, each.what) for each in found] == [
        ("two", "is missing; the statement covers it"),
        ("three", "is new; the statement does not cover it"),
    ]


def test_lists_that_are_gone_or_new():
    was = Seals((FileSeal("f", "1", 1),), (TableSeal("f", "A", "runs", {2: "x"}),))
    now = Seals((FileSeal("f", "2", 1),), (TableSeal("f", "B", "runs", {2: "x"}),))
    assert [(each.sheet, each.what) for each in changes(was, now)] == [
        ("A", "the runs list is gone"),
        ("B", "the runs list is new"),
    ]


def test_bytes_that_touch_no_row():
    was = Seals((FileSeal("f", "1", 1),), ())
    (change,) = changes(was, Seals((FileSeal("f", "2", 1),), ()))
    assert "no row that was read" in change.what


def test_files_that_change_while_they_are_read():
    before = (FileSeal("a", "1", 1), FileSeal("b", "2", 1))
    assert changes_of_files(before, before) == ()
    found = changes_of_files(before, (FileSeal("a", "9", 1), FileSeal("c", "3", 1)))
    assert [each.file for each in found] == ["a", "b", "c"]
