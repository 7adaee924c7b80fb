"""Files that are broken, locked or hostile."""

import io
import struct
import zipfile

import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.reader import read
from tests.lists.making import (
    HEADINGS,
    notes_of,
    repacked,
    separated,
    sheet_changed,
    table_of,
    workbook,
)

TEXT = f"{HEADINGS}\nH-1 | tail | L | line"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def refused(path, **options):
    with pytest.raises(InputError) as caught:
        read([path], **options)
    return str(caught.value)


def outcome(path):
    """The ids that were read, or in a word what was said instead."""
    try:
        tables = read([path]).tables
    except InputError as error:
        return "damaged" if "is damaged or only partly copied" in str(error) else str(error)
    return tables[0].column("connection") if tables else "no list"


@pytest.fixture
def path(tmp_path):
    return workbook(tmp_path / "a.xlsx", S=TEXT)


def test_a_password(tmp_path):
    data = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600) + "EncryptedPackage".encode("utf-16-le")
    message = refused(separated(tmp_path / "a.xlsx", data))
    assert "protected by a password. Save a copy without one and give that." in message


def test_sheet_protection_alone_is_no_password(tmp_path):
    def edit(book):
        book["S"].protection.sheet = True
        book["S"].protection.password = "x"

    assert len(table_of(workbook(tmp_path / "a.xlsx", edit=edit, S=TEXT)).rows) == 1


def test_the_lock_file_of_an_open_workbook(tmp_path, path):
    lock = separated(tmp_path / "~$a.xlsx", b"\x05someone")
    for given in ([tmp_path], [path, lock]):
        reading = read(given)
        assert len(reading.tables) == 1
        assert "is the mark that a.xlsx is open elsewhere; what was last saved is read" in (
            notes_of(reading)
        )


@pytest.mark.parametrize("share", [0.02, 0.3, 0.7, 0.95, 0.999])
def test_a_file_that_was_only_partly_copied(tmp_path, path, share):
    data = path.read_bytes()
    message = refused(separated(tmp_path / "cut.xlsx", data[: int(len(data) * share)]))
    assert "is damaged or only partly copied" in message


def test_a_damaged_part(path):
    data = bytearray(path.read_bytes())
    at = data.index(b"xl/worksheets/sheet1.xml") + 40
    data[at : at + 40] = bytes(40)
    path.write_bytes(data)
    assert "is damaged or only partly copied" in refused(path)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"<sheetData>", b"<sheetData><row"),
        (b"</sheetData>", b""),
        (b'<c r="A1"', b'<c r="1A"'),
        (b'<row r="2"', b'<row r="two"'),
    ],
)
def test_xml_that_is_broken(path, old, new):
    path = sheet_changed(path, old, new)
    assert outcome(path) in ("damaged", "no list", ["H-1"])


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        pytest.param(
            [(b'<row r="3"', b'<row r="2"'), (b'"A3"', b'"A2"'), (b'"B3"', b'"B2"'),
             (b'"C3"', b'"C2"'), (b'"D3"', b'"D2"')],
            "row 2 stands in it twice", id="row-twice",
        ),
        pytest.param(
            [(b'<row r="3"', b'<row r="0"'), (b'"A3"', b'"A0"'), (b'"B3"', b'"B0"'),
             (b'"C3"', b'"C0"'), (b'"D3"', b'"D0"')],
            "it has a row 0", id="row-0",
        ),
        pytest.param([(b'r="A3"', b'r="A2"')], "cell A2 stands in row 3", id="cell-of-another-row"),
        pytest.param([(b'r="D3"', b'r="C3"')], "cell C3 stands in it twice", id="cell-twice"),
        pytest.param([(b'r="D3"', b'r="D2"')], "cell D2 stands in row 3", id="last-cell"),
    ],
)  # fmt: skip
def test_rows_and_cells_that_would_overwrite_each_other(tmp_path, changes, found):
    text = f"{HEADINGS}\nK-1 | ring | L | cable\nK-2 | ring | L | hose\nK-3 | ring | L | rod"

    def change(name, data):
        if name == "xl/worksheets/sheet1.xml":
            for old, new in changes:
                assert old in data
                data = data.replace(old, new)
        return data

    words = refused(repacked(workbook(tmp_path / "a.xlsx", S=text), change))
    assert f"S: is damaged: {found}, so what is written in it could be lost" in words
    assert "save it once" in words


def test_a_zip_bomb(tmp_path, path):
    def change(name, data):
        if name != "xl/worksheets/sheet1.xml":
            return data
        return data.replace(b"</sheetData>", b'<row r="9"/>' * (4 << 20) + b"</sheetData>")

    bomb = repacked(path, change)
    assert bomb.stat().st_size < 1 << 20
    assert "as only a trap does" in refused(bomb)
    assert read([bomb], bounds=Bounds(ratio=5000)).tables


def test_a_text_without_an_end(path):
    def change(name, data):
        if name != "xl/worksheets/sheet1.xml":
            return data
        return data.replace(b"</sheetData>", b" " * (15 << 20) + b"</sheetData>")

    assert "MiB without a cell or a text in it" in refused(repacked(path, change))


def test_a_part_that_is_too_large(path):
    assert "raise the bound on the size of one part" in refused(path, bounds=Bounds(part_bytes=600))
    assert "raise the bound on unpacked size" in refused(path, bounds=Bounds(unpacked_bytes=2000))
    assert "raise the bound on parts" in refused(path, bounds=Bounds(parts=3))


def test_a_size_that_is_a_lie(tmp_path, path):
    """The directory says 300 bytes, the part has more."""
    data = path.read_bytes()
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        size = archive.getinfo("xl/worksheets/sheet1.xml").file_size
    lie = data.replace(struct.pack("<I", size), struct.pack("<I", 300))
    assert "is damaged" in refused(separated(tmp_path / "lie.xlsx", lie))


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "_rels/.rels"])
@pytest.mark.parametrize(
    "doctype",
    [
        b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>',
        b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>',
    ],
)
def test_xml_bombs_and_outside_entities(path, part, doctype):
    def change(name, data):
        if name != part:
            return data
        body = data[data.index(b"?>") + 2 :] if data.startswith(b"<?xml") else data
        return b'<?xml version="1.0"?>' + doctype + body

    message = refused(repacked(path, change))
    assert "has a document type (DOCTYPE)" in message
    assert "Do not trust this file" in message


def test_the_strict_variant_of_the_format(path):
    def change(name, data):
        data = data.replace(MAIN.encode(), b"http://purl.oclc.org/ooxml/spreadsheetml/main")
        return data.replace(
            b"http://schemas.openxmlformats.org/officeDocument/2006/relationships",
            b"http://purl.oclc.org/ooxml/officeDocument/relationships",
        )

    assert table_of(repacked(path, change)).column("connection") == ["H-1"]


@pytest.mark.parametrize("styles", [b"<styleSheet", b"", b"<styleSheet><fonts><font><b val='?'/>"])
def test_odd_styles(path, styles):
    def change(name, data):
        return styles if name == "xl/styles.xml" else data

    assert outcome(repacked(path, change)) in ("damaged", ["H-1"])


def test_links_and_macros_are_said_and_not_followed(tmp_path, path):
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/externalLinks/externalLink1.xml", "<externalLink/>")
        archive.writestr("xl/vbaProject.bin", b"macro")
    reading = read([path.rename(tmp_path / "a.xlsm")])
    assert notes_of(reading) == [
        "links to other workbooks are not followed; the values last saved are read",
        "has macros; they are not run",
    ]


@pytest.mark.parametrize("name", ["../../evil.xml", "/etc/evil.xml", "xl\\odd.xml", "a" * 4000])
def test_odd_paths_in_the_archive_do_no_harm(path, name):
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr(name, "x")
    assert table_of(path).column("connection") == ["H-1"]


def test_two_parts_of_one_name_are_refused(path):
    with zipfile.ZipFile(path, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr("xl/worksheets/sheet1.xml", "<worksheet/>")
    assert "holds two parts named xl/worksheets/sheet1.xml" in refused(path)


@pytest.mark.parametrize(
    ("make", "found"),
    [
        pytest.param({"readme.txt": "x"}, "is an archive (.zip) and no workbook", id="zip"),
        pytest.param(
            {
                "_rels/.rels": '<R><A Type="x/officeDocument" Target="word/document.xml"/></R>',
                "word/_rels/document.xml.rels": "<R/>",
                "word/document.xml": "<document/>",
            },
            "is a document without sheets",
            id="text-document",
        ),
        pytest.param(
            {"_rels/.rels": '<R><A Type="x/officeDocument" Target="xl/workbook.bin"/></R>'},
            "is a binary workbook (.xlsb)",
            id="xlsb",
        ),
    ],
)
def test_archives_that_are_something_else(tmp_path, make, found):
    with zipfile.ZipFile(tmp_path / "a.xlsx", "w") as archive:
        for name, data in make.items():
            archive.writestr(name, data)
    assert found in refused(tmp_path / "a.xlsx")


def test_sheet_names_with_odd_characters(tmp_path):
    name = "A & B's [red] <x>".replace("[", "(").replace("]", ")")
    reading = read([workbook(tmp_path / "a.xlsx", **{name: TEXT})])
    assert reading.tables[0].sheet == name
    assert str(reading.tables[0].place(0, "side")).endswith(f"{name}!C2")


def test_two_sheets_of_one_name(tmp_path):
    path = workbook(tmp_path / "a.xlsx", S=TEXT, T=TEXT)

    def change(name, data):
        return data.replace(b'name="T"', b'name="S"') if name == "xl/workbook.xml" else data

    assert 'has two sheets named "S"' in refused(repacked(path, change))


def test_chart_sheets_are_named(tmp_path):
    def edit(book):
        book.create_chartsheet("Chart")

    reading = read([workbook(tmp_path / "a.xlsx", edit=edit, S=TEXT)])
    assert [(each.sheet, each.why) for each in reading.not_used] == [
        ("Chart", "it is a chart, not a table")
    ]
