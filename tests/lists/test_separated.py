import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.reader import read
from tests.lists.making import adds_up, notes_of, separated, table_of, troubles_of

HEAD = "connection,joint,side,type,service\n"


@pytest.mark.parametrize(
    ("data", "notes"),
    [
        pytest.param((HEAD + "É1,tail,L,line,x").encode(), [], id="utf-8"),
        pytest.param((HEAD + "É1,tail,L,line,x").encode("utf-8-sig"), [], id="utf-8-mark"),
        pytest.param((HEAD + "É1,tail,L,line,x").encode("utf-16"), [], id="utf-16-mark"),
        pytest.param(
            (HEAD + "É1,tail,L,line,x").encode("utf-16-be"),
            ["read as UTF-16, which it does not say it is"],
            id="utf-16-no-mark",
        ),
        pytest.param(
            (HEAD + "É1,tail,L,line,x").encode("cp1252"),
            [
                "read as Windows western (cp1252), because it is not UTF-8: "
                'line 2, "É1,tail,L,line,x"'
            ],
            id="cp1252",
        ),
    ],
)
def test_encodings(tmp_path, data, notes):
    reading = read([separated(tmp_path / "a.csv", data)])
    assert list(reading.tables[0].column("connection")) == ["É1"]
    assert notes_of(reading) == notes


def test_the_encoding_can_be_said(tmp_path):
    path = separated(tmp_path / "a.csv", (HEAD + "É1,tail,L,line,x").encode("cp850"))
    assert list(table_of(path, encoding="cp850").column("connection")) == ["É1"]
    with pytest.raises(InputError, match="is not utf-8: byte"):
        read([path], encoding="utf-8")
    with pytest.raises(InputError, match='the encoding "klingon" is unknown'):
        read([path], encoding="klingon")


@pytest.mark.parametrize(
    ("text", "note"),
    [
        pytest.param("connection,joint,side,type\nH-1,tail,L,line", [], id="comma"),
        pytest.param(
            "connection;joint;side;type\nH-1;tail;L;line",
            ["cells are separated by semicolons"],
            id="semicolon",
        ),
        pytest.param(
            "connection\tjoint\tside\ttype\nH-1\ttail\tL\tline",
            ["cells are separated by tabs"],
            id="tab",
        ),
        pytest.param(
            '"connection, all";joint;side;type;"a, b, c, d"\nH-1;tail;L;line;',
            ["cells are separated by semicolons", 'columns not read: E "a, b, c, d"'],
            id="commas-in-quotes-do-not-count",
        ),
        pytest.param("sep=|\nconnection|joint|side|type\nH-1|tail|L|line", [], id="sep-line"),
    ],
)
def test_separators(tmp_path, text, note):
    text = text.replace("connection, all", "connection (all, of them)")
    reading = read([separated(tmp_path / "a.csv", text)])
    table = reading.tables[0]
    assert (table.column("connection"), table.column("type")) == (["H-1"], ["line"])
    assert [each for each in notes_of(reading) if "headings are in" not in each] == note


@pytest.mark.parametrize("text", ["1;2;3;4", "1|2|3|4", "1, 2, 3, 4", "1/2/3/4"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_the_headings_tell_the_separator(tmp_path, text, separator):
    text = f'"{text}"' if separator in text else text
    lines = f"Issue 4; of 3 March\njoint{separator}alike sides\nrotor{separator}{text}"
    table = table_of(separated(tmp_path / "a.csv", lines))
    assert (table.column("joint"), table.column("alike sides")) == (["rotor"], [text.strip('"')])


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_row_numbers_are_those_of_a_spreadsheet(tmp_path, end):
    lines = [
        "",
        "Lines of the tail",
        "connection,joint,side,type",
        "",
        '"H\n1",tail,L,line',
        "#2,t,R,x",
    ]
    reading = read([separated(tmp_path / "a.csv", end.join(lines))])
    table = reading.tables[0]
    assert table.rows == [5, 6]
    assert table.column("connection")[1] == "#2"
    assert table.place(0, "side").cell == "C5"
    assert reading.accounts[0].read == 2


def test_a_row_with_more_cells_than_headings_is_reported(tmp_path):
    text = HEAD + "H-1,tail,L,line,x,,\nH-2,tail,L,3,5,x\nH-3,tail,L\n"
    reading = read([separated(tmp_path / "a.csv", text)])
    assert troubles_of(reading) == [
        (
            "3",
            "1 row has more cells than the 5 headings (row 3): cells may have moved to the right",
        )
    ]
    assert adds_up(reading)
    assert reading.tables[0].column("type") == ["line", "3", ""]
    assert "1 row has fewer cells than headings; the rest is blank (row 4)" in notes_of(reading)


def test_an_inch_mark_does_not_swallow_the_rest(tmp_path):
    text = HEAD + 'H-1,tail,L,line,x\nH-2,tail,L,"3/4"",20\nH-3,tail,R,line,x\n'
    with pytest.raises(
        InputError, match=r"a\.csv, line 3: a quotation mark is not closed"
    ) as caught:
        read([separated(tmp_path / "a.csv", text)])
    assert 'H-2,tail,L,"3/4"",20' in str(caught.value)


def test_text_stays_text(tmp_path):
    text = HEAD + "01001,NA,L,None,1E5\n1001,nan,L,line,3-4\n"
    table = table_of(separated(tmp_path / "a.csv", text))
    assert table.column("connection") == ["01001", "1001"]
    assert table.column("joint") == ["NA", "nan"]
    assert table.column("service") == ["1E5", "3-4"]
