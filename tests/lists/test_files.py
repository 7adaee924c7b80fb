import os
from pathlib import Path

import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.reader import read
from tests.lists.making import notes_of, separated, workbook

LINES = "connection | joint | side | type\nH-1 | tail | L | line"
CSV = "connection,joint,side,type\nH-1,tail,L,line\n"


def test_a_folder_is_read_in_the_order_of_its_names(tmp_path):
    workbook(tmp_path / "lists" / "b.xlsx", Lines=LINES)
    workbook(tmp_path / "lists" / "a" / "z.xlsx", Lines=LINES)
    separated(tmp_path / "lists" / "c.CSV", CSV)
    for name in ("README.md", "notes.txt", "joinmatrix.toml", ".hidden.csv", "readme.csv"):
        separated(tmp_path / "lists" / name, "" if name.endswith(".toml") else CSV)
    separated(tmp_path / "lists" / "photo.jpg", b"\xff\xd8\xff")
    separated(tmp_path / "lists" / "~$b.xlsx", b"\x05user")
    reading = read([f"{tmp_path}/lists"])
    assert [name.removeprefix(f"{tmp_path}/") for name in reading.files] == [
        *("lists/joinmatrix.toml", "lists/a/z.xlsx", "lists/b.xlsx", "lists/c.CSV")
    ]
    assert [table.file for table in reading.tables] == list(reading.files[1:])
    assert {(place.file.rpartition("/")[2], words) for place, words in reading.notes} == {
        ("photo.jpg", "is no spreadsheet; it was not read"),
        ("~$b.xlsx", "is the mark that b.xlsx is open elsewhere; what was last saved is read"),
    }


def test_names_are_reported_as_given(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    separated(tmp_path / "a.csv", CSV)
    os.mkdir("sub")
    separated(tmp_path / "sub" / "b.csv", CSV)
    assert read(["./a.csv", "sub/"]).files == ("./a.csv", "sub/b.csv")


def test_a_file_given_twice_is_read_once(tmp_path):
    path = separated(tmp_path / "a.csv", CSV)
    reading = read([path, tmp_path])
    assert len(reading.tables) == 1
    assert notes_of(reading) == [f"is the same file as {path}; it was read once"]


def test_a_folder_without_lists_gives_an_empty_reading(tmp_path):
    assert read([tmp_path]).files == ()


@pytest.mark.parametrize(
    ("name", "data", "found"),
    [
        pytest.param("a.csv", b"", "is empty: zero bytes", id="zero-bytes"),
        pytest.param("a.xlsx", b"PK\x03\x04cut", "is damaged or only partly copied", id="cut-off"),
        pytest.param("a.xlsx", b"PK\x05\x06" + bytes(18), "nothing in it", id="empty-archive"),
        pytest.param("a.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old format (.xls)", id="xls"),
        pytest.param(
            "a.xlsx",
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"),
            "protected by a password",
            id="encrypted",
        ),
        pytest.param("a.xls", b"<html><table>", "is a web page", id="web-page"),
        pytest.param("a.pdf", b"%PDF-1.7", "is a PDF", id="pdf"),
        pytest.param("a.csv", b"a,b\n\x00\x01", "line 2: holds a NUL byte", id="binary"),
    ],
)
def test_a_file_that_cannot_be_used(tmp_path, name, data, found):
    path = separated(tmp_path / name, data)
    with pytest.raises(InputError) as caught:
        read([path])
    assert str(path) in str(caught.value)
    assert found in str(caught.value)
    assert "Traceback" not in str(caught.value)


def test_a_missing_file_is_named():
    with pytest.raises(InputError, match=r"lists/none\.xlsx: there is no such file or folder"):
        read(["lists/none.xlsx"])


def test_a_locked_file_is_named(tmp_path, monkeypatch):
    path = separated(tmp_path / "a.csv", CSV)

    def locked(*_):
        raise PermissionError(13, "Permission denied", str(path))

    for opening in ("open", "read_bytes"):
        monkeypatch.setattr(Path, opening, locked)
    monkeypatch.setattr("builtins.open", locked)
    with pytest.raises(InputError, match="may not be read"):
        read([path])


@pytest.mark.parametrize("name", ["old.xls", "binary.xlsb"])
def test_old_formats_in_a_folder_are_not_passed_over(tmp_path, name):
    separated(tmp_path / name, b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")
    with pytest.raises(InputError, match=r"save it as \.xlsx or \.csv"):
        read([tmp_path])


@pytest.mark.parametrize(
    ("name", "make"),
    [
        pytest.param("list.csv", lambda path: workbook(path.with_suffix(".xlsx"), Lines=LINES)
                     .rename(path), id="workbook-named-csv"),
        pytest.param("list.xlsx", lambda path: separated(path, CSV), id="csv-named-xlsx"),
        pytest.param("list.dat", lambda path: separated(path, CSV), id="other-suffix"),
    ],
)  # fmt: skip
def test_first_bytes_decide(tmp_path, name, make):
    make(tmp_path / name)
    assert list(read([tmp_path / name]).tables[0].column("connection")) == ["H-1"]


def test_bounds_on_files(tmp_path):
    separated(tmp_path / "a.csv", CSV)
    separated(tmp_path / "b.csv", CSV + "H-2,tail,R,line\n")
    with pytest.raises(InputError, match="more than 1 files"):
        read([tmp_path], bounds=Bounds(files=1))
    with pytest.raises(InputError, match="raise the bound on the size of a file"):
        read([tmp_path], bounds=Bounds(file_bytes=10))
