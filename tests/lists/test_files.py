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
    for name in ("README.md", "joinmatrix.toml", ".hidden.csv"):
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


@pytest.mark.parametrize(
    ("name", "mark", "encoding"),
    [
        pytest.param("hydraulics.txt", "\t", "utf-8", id="txt"),
        pytest.param("hydraulics.TXT", ";", "utf-16", id="txt-in-utf-16"),
        pytest.param("hydraulics.txt", "\t", "cp1252", id="txt-in-cp1252"),
        pytest.param("readme.txt", "|", "utf-8", id="readme-txt"),
        pytest.param("README.csv", ",", "utf-8", id="readme-csv"),
        pytest.param("hydraulics.tab", "\t", "utf-8", id="tab"),
        pytest.param("hydraulics.tsv", "\t", "utf-8", id="tsv"),
    ],
)
def test_a_text_of_a_folder_that_has_the_headings_of_a_list_is_read(tmp_path, name, mark, encoding):
    text = "Lines of the ü skid\n\n" + CSV.replace(",", mark)
    path = separated(tmp_path / name, text, encoding)
    assert list(read([tmp_path]).tables[0].column("connection")) == ["H-1"]
    assert read([tmp_path]).files == (str(path),)


def test_a_text_of_a_folder_that_lacks_one_heading_of_a_list_is_reported(tmp_path):
    separated(tmp_path / "hydraulics.txt", CSV.replace("connection", "Verbindung"))
    (trouble,) = read([tmp_path]).troubles
    assert '"connection" is missing' in trouble.found


def test_texts_of_a_folder_that_are_no_lists_are_named_once(tmp_path):
    separated(tmp_path / "a.csv", CSV)
    separated(tmp_path / "notes.txt", 'He said "when, what, and who\n' * 100)
    separated(tmp_path / "in" / "columns.txt", "connection   joint  side  type\nH-2 tail L line\n")
    separated(tmp_path / "empty.txt", "")
    separated(tmp_path / "binary.txt", b"\x00\x01\xff" * 500)
    separated(tmp_path / "README.txt", "Read this, please\n")
    os.mkfifo(tmp_path / "pipe.txt")
    reading = read([tmp_path])
    assert notes_of(reading) == [
        'not read, because no line has the headings of a list: "binary.txt", "empty.txt", '
        '"in/columns.txt", "notes.txt" and "pipe.txt"; save as .csv what is one'
    ]
    assert len(reading.files) == 1


def test_a_text_that_is_named_is_read(tmp_path):
    path = separated(tmp_path / "notes.txt", "nothing\n")
    assert read([path]).files == (str(path),)


def links_of(reading):
    return {
        (place.file.rpartition("/")[2], words)
        for place, words in reading.notes
        if "is a link" in words
    }


def test_a_folder_that_is_linked_to_is_looked_through(tmp_path):
    separated(tmp_path / "lists" / "a.csv", CSV)
    separated(tmp_path / "elsewhere" / "in" / "b.csv", CSV.replace("H-1", "H-2"))
    os.symlink(tmp_path / "elsewhere", tmp_path / "lists" / "linked")
    reading = read([f"{tmp_path}/lists"])
    assert [name.removeprefix(f"{tmp_path}/") for name in reading.files] == [
        *("lists/a.csv", "lists/linked/in/b.csv")
    ]
    assert links_of(reading) == {
        ("linked", "is a link to a folder, which was looked through like any other")
    }


def test_links_in_circles_are_not_followed(tmp_path):
    lists = tmp_path / "lists"
    separated(lists / "in" / "a.csv", CSV)
    separated(tmp_path / "not-asked-for.csv", CSV)
    os.symlink(lists, lists / "in" / "round")
    os.symlink(tmp_path, lists / "up")
    os.symlink(lists / "in", lists / "again")
    os.symlink(lists / "self", lists / "self")
    reading = read([lists])
    assert reading.files == (str(lists / "in" / "a.csv"),)
    around = "is a link to a folder that it lies in; it was not followed"
    assert links_of(reading) == {
        ("round", around),
        ("up", around),
        ("again", "is a link to a folder that was looked through already"),
    }


def test_folders_that_are_linked_to_each_other_are_looked_through_once(tmp_path):
    separated(tmp_path / "a" / "a.csv", CSV)
    separated(tmp_path / "b" / "b.csv", CSV.replace("H-1", "H-2"))
    os.symlink(tmp_path / "b", tmp_path / "a" / "to-b")
    os.symlink(tmp_path / "a", tmp_path / "b" / "to-a")
    reading = read([tmp_path / "a"])
    assert [file.rpartition("/")[2] for file in reading.files] == ["a.csv", "b.csv"]


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
