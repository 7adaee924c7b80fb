"""Text that looks the same and is not."""

import pytest

from joinmatrix.lists.reader import read
from joinmatrix.names import folded
from joinmatrix.verify import verify
from tests.lists.making import HEADINGS, sheet_changed, table_of, workbook


def ids_of(tmp_path, *ids):
    def edit(book):
        for row, name in enumerate(ids, 2):
            book["S"].cell(row, 1, name)

    text = f"{HEADINGS}\n" + "x | tail | L | line\n" * len(ids)
    return table_of(workbook(tmp_path / "a.xlsx", edit=edit, S=text)).column("connection")


@pytest.mark.parametrize(
    ("written", "text"),
    [
        pytest.param("J1", "J1", id="plain"),
        pytest.param(" J1 ", "J1", id="spaces-around"),
        pytest.param("\u00a0J1\u00a0", "J1", id="non-breaking"),
        pytest.param("J1\t", "J1", id="tab"),
        pytest.param("J1\n", "J1", id="line-break"),
        pytest.param("\u200bJ1\ufeff", "J1", id="invisible-around"),
        pytest.param("\u00ad", "", id="nothing-but-invisible"),
    ],
)
def test_what_stands_around_a_name_is_dropped(tmp_path, written, text):
    assert ids_of(tmp_path, written, "J2") == ([text, "J2"] if text else ["J2"])


@pytest.mark.parametrize(
    ("one", "other"),
    [
        pytest.param("J  1", "J 1", id="doubled-space"),
        pytest.param("J\u00a01", "J 1", id="non-breaking-space"),
        pytest.param("J\n1", "J 1", id="line-break"),
        pytest.param("J\u200b1", "J1", id="zero-width"),
        pytest.param("J\u00ad1", "J1", id="soft-hyphen"),
        pytest.param("J\uff11", "J1", id="full-width"),
        pytest.param("\u00e9", "e\u0301", id="accent"),
        pytest.param("j1", "J1", id="case"),
        pytest.param("\u00b5", "\u03bc", id="micro-sign"),
    ],
)
def test_names_that_are_one(tmp_path, one, other):
    first, second = ids_of(tmp_path, one, other)
    assert folded(first) == folded(second)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        pytest.param("\u0408-1", "J-1", id="cyrillic"),
        pytest.param("H\u20131", "H-1", id="en-dash"),
        pytest.param("H\u20111", "H-1", id="non-breaking-hyphen"),
        pytest.param("1001", "01001", id="leading-zero"),
    ],
)
def test_names_that_only_look_alike_are_reported_and_not_merged(tmp_path, one, other):
    def edit(book):
        book["S"]["A2"], book["S"]["A3"] = one, other

    text = f"{HEADINGS}\nx | tail | L | line\nx | tail | R | line"
    report = verify([workbook(tmp_path / "a.xlsx", edit=edit, S=text)])
    assert len({each.key.name for each in report.assembly.connections}) == 2
    assert any(
        ({place.cell for place in each.places} >= {"A2"} and "look" in each.message + each.clears)
        or "zero" in each.message
        for each in report.findings
    )


@pytest.mark.parametrize(
    ("name", "note"),
    [
        pytest.param("H-1", [], id="plain"),
        pytest.param("Größe-1", [], id="letters-of-a-language"),
        pytest.param("J\u200b1", ["U+200B ZERO WIDTH SPACE"], id="invisible"),
        pytest.param("\u0408-x", ["U+0408 CYRILLIC CAPITAL LETTER JE"], id="cyrillic-among-latin"),
        pytest.param("H\u20131", ["U+2013 EN DASH"], id="dash"),
    ],
)
def test_odd_characters_in_names_are_noted_with_their_code(tmp_path, name, note):
    def edit(book):
        book["S"]["A2"] = name

    reading = read([workbook(tmp_path / "a.xlsx", edit=edit, S=f"{HEADINGS}\nx | t | L | a – b")])
    assert [(place.cell, words) for place, words in reading.notes] == [
        ("A2", f"connection: the name has {each} in it") for each in note
    ]


@pytest.mark.parametrize("text", ["{", "{0}", "%s", "{column!r}", "\\"])
def test_marks_of_a_programmer_are_text(tmp_path, text):
    path = workbook(
        tmp_path / "a.xlsx", S=f"{HEADINGS} | made | timing\nH-1 | {text} | L | x | {text} | {text}"
    )
    report = verify([path])
    assert report.assembly.connections[0].joint == text
    assert not report.crashed


def test_written_carriage_returns(tmp_path):
    path = workbook(tmp_path / "a.xlsx", S=f"{HEADINGS}\nH-1_x000D_ | tail | L | line")
    assert table_of(path).column("connection") == ["H-1"]


def test_spaces_that_the_file_asks_to_keep(tmp_path):
    path = workbook(tmp_path / "a.xlsx", S=f"{HEADINGS}\nH-1 | tail | L | line")
    path = sheet_changed(path, b"<t>H-1</t>", b'<t xml:space="preserve">  H-1  </t>')
    assert table_of(path).column("connection") == ["H-1"]
