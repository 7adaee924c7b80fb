"""What goes wrong with a .csv."""

import re

import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.reader import read
from tests.lists.making import adds_up, notes_of, separated, troubles_of

HEAD = "connection,joint,side,type,size\n"


def reading_of(tmp_path, text, encoding="utf-8", name="a.csv"):
    return read([separated(tmp_path / name, text, encoding)])


@pytest.mark.parametrize(
    ("text", "line"),
    [
        pytest.param('H-1,t,L,x,"3/4"",20\nH-2,t,R,x,y\n', 2, id="inch-mark-in-quotes"),
        pytest.param('H-1,t,L,x,y\nH-2,t,R,"x" y,z\n', 3, id="text-behind-the-quotes"),
        pytest.param('H-1,t,L,x,y\nH-2,t,R,x,"open\nH-3,t,R,x,y\n', 3, id="never-closed"),
    ],
)
def test_inch_marks_in_quotes_are_refused_with_their_line(tmp_path, text, line):
    with pytest.raises(InputError, match=rf"a\.csv, line {line}: a quotation mark"):
        reading_of(tmp_path, HEAD + text)


def test_plain_inch_marks_are_text(tmp_path):
    reading = reading_of(tmp_path, HEAD + 'H-1,t,L,line,3/4"\nH-2,t,R,line,"3/4"""\n')
    assert reading.tables[0].column("size") == ['3/4"', '3/4"']


def swallowed_in(reading):
    """Cell and lines of the file of each cell that took rows in."""
    found = [(cell, re.search(r"took (.*) of the file", words)) for cell, words in
             troubles_of(reading)]  # fmt: skip
    return [(cell, match[1]) for cell, match in found if match]


def test_two_inch_marks_that_swallow_a_row_between_them(tmp_path):
    text = HEAD + 'H-1,t,L,x,"3/4\nH-2,t,R,x,5/8"\nH-3,t,R,x,y\n'
    reading = reading_of(tmp_path, text)
    assert troubles_of(reading) == [
        (
            "E2",
            'size: a quotation mark took line 3 of the file into this cell ("H-2,t,R,x,5/8"); '
            "nothing of that was read, and this row was not used",
        )
    ]
    assert "double the inch mark" in reading.troubles[0].remedy
    assert reading.troubles[0].connections == ("H-1",)
    assert reading.accounts[0].aside == ((2, "its cell E2 holds line 3 of the file"),)
    assert reading.tables[0].column("connection") == ["H-3"]


@pytest.mark.parametrize("heading", ["service", "remarks", "timing", "limits", "part", "colour"])
def test_inch_marks_that_swallow_rows_in_any_column(tmp_path, heading):
    text = (
        f"connection,joint,side,type,{heading},inspected on\n"
        'H-1,t,L,line,"3/4"" brake,\n'
        "H-2,t,R,rod,aileron,2031-02-03\n"
        'H-3,t,L,line,brake 3/4",rubbish\n'
        "H-4,t,R,bolt,x,\n"
    )
    reading = reading_of(tmp_path, text)
    assert swallowed_in(reading) == [("E2", "lines 3 to 4")]
    assert len(reading.troubles) == 1  # what stands in the row beside it is that of another row
    assert reading.tables[0].column("connection") == ["H-4"]
    assert adds_up(reading)


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_the_swallowed_lines_are_those_of_the_file(tmp_path, end):
    text = (
        "connection,joint,side,type,service,remarks\n"
        'H-1,t,L,line,x,"one\ntwo"\n'
        'H-2,t,R,rod,"3/4"" x,\n'
        "H-3,t,R,rod,y,\n"
        'H-4,t,R,rod,3/4","one\ntwo"\n'
    )
    reading = reading_of(tmp_path, text.replace("\n", end))
    assert swallowed_in(reading) == [("E3", "lines 5 to 6")]


def test_swallowed_rows_that_are_shorter_than_the_headings(tmp_path):
    text = (
        "connection,joint,side,type,service,from,to,timing,place,part\n"
        'H-1,tail,L,line,"3/4"" x\nH-2,tail,R\nH-3,tail,L,line,3/4"\nH-4,tail,R,line,x\n'
    )
    assert swallowed_in(reading_of(tmp_path, text)) == [("E2", "lines 3 to 4")]


def test_swallowed_rows_of_a_list_with_semicolons(tmp_path):
    text = 'connection;joint;side;type;service\nH-1;t;L;x;"3/4"" y\nH-2;t;R;x;3/4"\n'
    assert swallowed_in(reading_of(tmp_path, text)) == [("E2", "line 3")]


@pytest.mark.parametrize(
    ("before", "row"),
    [
        pytest.param('"3/4"" lines of the tail\n', "A1", id="in-a-title"),
        pytest.param('part,person,may\n1,C. Dale,make\n\n2,"3/4"" x,make\n', "B4", id="in-a-row"),
        pytest.param('stage,after,remarks\nmate,,"3/4"" first\n\n', "C2", id="in-another-list"),
    ],
)
def test_swallowed_headings(tmp_path, before, row):
    text = before + 'person,may\nC. Dale,make 3/4"\n'
    other = separated(tmp_path / "b.csv", HEAD + "H-1,t,L,x,y\n")
    reading = read([separated(tmp_path / "a.csv", text), other])
    ((cell, lines),) = swallowed_in(reading)
    assert cell == row
    assert lines.startswith("lines ")


def test_rows_that_a_heading_swallows(tmp_path):
    text = 'connection,joint,side,type,"size ""\nH-1,t,L,x,3/4"\nH-2,t,R,x,y\n'
    reading = reading_of(tmp_path, text)
    assert swallowed_in(reading) == [("E1", "line 2")]
    assert reading.tables[0].column("connection") == ["H-2"]


def test_headings_of_several_lines_swallow_nothing(tmp_path):
    text = '"Conn. no\n(no, ID)",joint,side,type,"size\n(in, mm)"\nH-1,t,L,x,y\n'
    assert not reading_of(tmp_path, text).troubles


@pytest.mark.parametrize(
    "remark",
    [
        pytest.param("first, then\nthe second, and\nthe third, last", id="a-comma-in-each-line"),
        pytest.param("see H-1, H-2\nsee H-3, H-4", id="other-connections"),
        pytest.param("L\nR", id="sides"),
        pytest.param("a, b, c, d, e, f, g, h\n", id="commas-and-a-blank-line"),
        pytest.param("a, b, c, d, e, f, g\nh, i", id="commas-in-its-first-line"),
        pytest.param("\n\nx\n", id="blank-lines"),
    ],
)
def test_a_remark_of_several_lines_is_no_row(tmp_path, remark):
    text = (
        "connection,joint,side,type,service,from,remarks,part\n"
        f'H-1,t,L,line,x,p,"{remark}",1\nH-2,t,R,line,x,p,,2\n'
    )
    reading = reading_of(tmp_path, text)
    assert not reading.troubles
    assert reading.tables[0].column("connection") == ["H-1", "H-2"]


def test_line_breaks_in_remarks_are_text(tmp_path):
    text = 'connection,joint,side,type,remarks\nH-1,t,L,x,"one\ntwo"\nH-2,t,R,x,\n'
    reading = reading_of(tmp_path, text)
    assert reading.tables[0].column("remarks") == ["one\ntwo", ""]
    # The row a spreadsheet would show, not the line of the file.
    assert reading.tables[0].rows == [2, 3]
    assert not reading.troubles


def test_a_decimal_comma_that_makes_a_row_longer(tmp_path):
    reading = reading_of(tmp_path, HEAD + "H-1,t,L,x,1,5\nH-2,t,R,x,2\n")
    ((cell, found),) = troubles_of(reading)
    assert cell == "2"
    assert "1 row has more cells than the 5 headings (row 2)" in found


def test_trailing_separators_are_nothing(tmp_path):
    reading = reading_of(tmp_path, HEAD + "H-1,t,L,x,y,,\nH-2,t,R,x,y,,\n")
    assert not reading.troubles
    assert reading.tables[0].column("connection") == ["H-1", "H-2"]


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_separators(tmp_path, separator):
    text = (HEAD + "H-1,t,L,x,y\n").replace(",", separator)
    assert reading_of(tmp_path, text).tables[0].column("size") == ["y"]


def test_a_title_full_of_commas_does_not_choose_the_separator(tmp_path):
    text = '"Lines, hoses, cables, rods, pins, bolts, ducts";;;;\n' + HEAD.replace(",", ";")
    reading = reading_of(tmp_path, text + "H-1;t;L;x;1,5\n")
    assert reading.tables[0].column("size") == ["1,5"]


def test_a_decimal_comma_in_most_cells_does_not_choose_the_separator(tmp_path):
    text = "connection;joint;side;type;size\n" + "H-1;t;L;x;1,5\n" * 40
    assert len(reading_of(tmp_path, text).tables[0].rows) == 40


@pytest.mark.parametrize(
    ("text", "mark", "note"),
    [
        pytest.param(
            "connection;joint;side;type;timing\nH-1;t;L;x;after a, b, c, d, e, f\n",
            *(";", "semicolons"),
            id="commas-in-a-rule",
        ),
        pytest.param(
            "Pump skid, rev 3, bay 4, 1 May, by AB\nconnection;joint;side;type\nH-1;t;L;x\n",
            *(";", "semicolons"),
            id="commas-in-a-title",
        ),
        pytest.param(
            "connection,joint,side,type,remarks\nH-1,t,L,x,a; b; c; d; e; f; g\n",
            *(",", "commas"),
            id="semicolons-in-a-remark",
        ),
        pytest.param(
            "connection\tjoint\tside\ttype\nH-1\tt\tL\tx, y, z; a, b, c; d\n",
            *("\t", "tabs"),
            id="commas-and-semicolons",
        ),
        pytest.param(
            "a, b, c, d, e\n" * 40 + "\nconnection|joint|side|type\nH-1|t|L|x\n",
            *("|", "bars"),
            id="far-below-a-long-preface",
        ),
    ],
)
def test_the_line_of_the_headings_chooses_the_separator(tmp_path, text, mark, note):
    reading = reading_of(tmp_path, text)
    assert reading.tables[0].column("connection") == ["H-1"]
    assert f"cells are separated by {note}, as the headings are" in notes_of(reading)
    last = text.strip().rpartition(mark)[2]
    assert last in {cells[0] for cells in reading.tables[0].cells.values()}


def test_headings_that_only_the_settings_know_choose_the_separator(tmp_path):
    separated(
        tmp_path / "joinmatrix.toml",
        '[headings]\n"Nr" = "connection"\n"Stelle" = "joint"\n"Seite" = "side"\n"Art" = "type"\n',
    )
    reading = reading_of(tmp_path, "Nr;Stelle;Seite;Art\nH-1;t;L;x, y, z, a, b, c\n")
    assert reading.tables[0].column("type") == ["x, y, z, a, b, c"]


def test_a_line_that_names_another_separator_than_the_headings_have(tmp_path):
    reading = reading_of(tmp_path, "sep=,\nconnection;joint;side;type\nH-1;t;L;x\n")
    assert reading.tables[0].column("connection") == ["H-1"]
    assert notes_of(reading)[0] == (
        "the first line says that commas separate the cells, but the headings are separated by "
        "semicolons, and so all was read"
    )


def test_inch_marks_that_swallow_cells_of_one_row(tmp_path):
    text = (
        'connection,size,joint,side,type,service\nH-1,"3/4 hose,tail,L,line 3/4",brake\n'
        "H-2,x,tail,L,rod,y\nH-3,x,tail,R,rod,y\n"
    )
    reading = reading_of(tmp_path, text)
    assert troubles_of(reading) == [
        (
            "B2",
            'size: a quotation mark joined several cells to one ("3/4 hose,tail,L,line 3/4"), so '
            "those behind it have moved to the left, and this row was not used",
        )
    ]
    assert reading.tables[0].column("connection") == ["H-2", "H-3"]
    assert adds_up(reading)


def test_texts_with_separators_in_shorter_rows_are_texts(tmp_path):
    text = 'joint,alike sides,remarks\ntail,"L,R"\nwing,"L,R"\nfin,"1, 2, 3"\nnose,"L,R",R of all\n'
    assert not reading_of(tmp_path, text).troubles


@pytest.mark.parametrize("row", ["FUEL;tail;L;line;3", "H-2;tail;R;line;3,,,,"])
def test_a_row_with_another_separator_than_the_headings_have(tmp_path, row):
    reading = reading_of(tmp_path, HEAD + f"H-1,tail,L,line,3\n{row}\nH-3,tail,R,line,3\n")
    shown = row.rstrip(",")
    assert troubles_of(reading) == [
        (
            "A3",
            f'the cells of the row "{shown}" are separated by semicolons, and those of the '
            "headings are not, so it was not used",
        )
    ]
    assert reading.tables[0].column("connection") == ["H-1", "H-3"]
    assert adds_up(reading)


def test_many_rows_with_another_separator_are_told_together(tmp_path):
    rows = "".join(f"H-{number};tail;R;line;3\n" for number in range(2, 102))
    reading = reading_of(tmp_path, HEAD + "H-1,tail,R,line,3\n" + rows)
    assert len(reading.troubles) == 51
    assert troubles_of(reading)[-1] == ("A53", "50 more rows like those above, down to row 102")


@pytest.mark.parametrize("row", ["Checked; A. Bell; bay 4; 1 May; rev 3", "Note: L; R; C"])
def test_a_remark_with_another_separator_is_no_row(tmp_path, row):
    reading = reading_of(tmp_path, HEAD + f"H-1,tail,L,line,3\nH-3,tail,R,line,3\n{row}\n")
    assert not reading.troubles


@pytest.mark.parametrize("line", ['sep="', "sep=a"])
def test_a_separator_that_can_be_none_is_not_believed(tmp_path, line):
    reading = reading_of(tmp_path, f"{line}\n" + HEAD + "H-1,t,L,x,y\n")
    assert reading.tables[0].column("size") == ["y"]


@pytest.mark.parametrize("line", ["sep=;", '"sep=;"', "SEP=;"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_a_line_that_names_the_separator(tmp_path, line, end):
    text = f"{line}\n" + HEAD.replace(",", ";") + "H-1;t;L;x;a,b\n"
    reading = reading_of(tmp_path, text.replace("\n", end))
    assert reading.tables[0].rows == [3]
    assert reading.tables[0].column("size") == ["a,b"]


@pytest.mark.parametrize(
    ("encoding", "note"),
    [
        ("utf-8", ""),
        ("utf-8-sig", ""),
        ("utf-16", ""),
        ("utf-16-le", "read as UTF-16, which it does not say it is"),
        ("utf-16-be", "read as UTF-16, which it does not say it is"),
        ("utf-32", ""),
        (
            "cp1252",
            'read as Windows western (cp1252), because it is not UTF-8: line 2, "Öl,t,L,x,y"',
        ),
    ],
)
def test_encodings(tmp_path, encoding, note):
    reading = reading_of(tmp_path, HEAD + "Öl,t,L,x,y\n", encoding)
    assert reading.tables[0].column("connection") == ["Öl"]
    assert "".join(notes_of(reading)) == note


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_its_mark_that_is_said_to_be_utf_16(tmp_path, encoding):
    path = separated(tmp_path / "a.csv", HEAD + "Öl,t,L,x,y\n", encoding)
    assert read([path], encoding="utf-16").tables[0].column("connection") == ["Öl"]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32"])
def test_an_order_of_bytes_that_nothing_tells_is_asked_for(tmp_path, encoding):
    path = separated(tmp_path / "a.csv", HEAD + "H-1,t,L,x,y\n")
    with pytest.raises(InputError, match=f"Say {encoding}-le or {encoding}-be"):
        read([path], encoding=encoding)


@pytest.mark.parametrize(
    "encoding",
    [
        *("undefined", "punycode", "idna", "hex", "zip", "bz2", "base64", "uu", "quopri", "rot13"),
        *("unicode_escape", "raw_unicode_escape", "charmap", "mbcs", "oem", "klingon", "a b", ""),
    ],
)
def test_what_is_no_encoding_of_a_text_is_refused(tmp_path, encoding):
    path = separated(tmp_path / "a.csv", HEAD + "H-1,t,L,x,y\n")
    with pytest.raises(InputError, match=f'the encoding "{encoding}" is unknown. Try utf-8'):
        read([path], encoding=encoding)


@pytest.mark.parametrize("encoding", ["UTF8", "u8", "Windows-1252", "latin1", "cp037", "utf_16_le"])
def test_an_encoding_in_any_spelling(tmp_path, encoding):
    path = separated(tmp_path / "a.csv", HEAD + "H-1,t,L,x,y\n", encoding)
    assert read([path], encoding=encoding).tables[0].column("connection") == ["H-1"]


def test_text_that_is_no_text(tmp_path):
    with pytest.raises(InputError, match="line 2: holds a NUL byte"):
        reading_of(tmp_path, HEAD.encode() + b"H-1\x00,t,L,x,y\n")


def test_bytes_that_no_usual_encoding_has(tmp_path):
    with pytest.raises(InputError, match="neither UTF-8 nor Windows western"):
        reading_of(tmp_path, HEAD.encode() + b"H-1\x81\x8d,t,L,x,y\n")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_blank_lines_and_old_line_ends(tmp_path, end):
    text = end.join(["", "", HEAD.strip(), "", "#1,t,L,x,y", "", "H-2,t,R,x,y"])
    reading = reading_of(tmp_path, text)
    assert reading.tables[0].rows == [5, 7]
    assert adds_up(reading)


@pytest.mark.parametrize(
    ("name", "data", "found"),
    [
        ("a.xls", b"<html><body><table><tr><td>connection</td></tr></table>", "web page"),
        ("a.xls", b'<?xml version="1.0"?><Workbook>', "web page or XML"),
        ("a.csv", b"%PDF-1.4", "is a PDF"),
    ],
)
def test_wrong_clothes(tmp_path, name, data, found):
    with pytest.raises(InputError, match=found):
        reading_of(tmp_path, data, name=name)


@pytest.mark.parametrize(
    "error",
    [
        *("#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NULL!", "#NUM!", "#SPILL!"),
        *("Err:508", "Err:522", "#BEZUG!", "#NV", "#¿NOMBRE?", "#VALEUR!"),
    ],
)
def test_the_texts_of_errors_are_errors(tmp_path, error):
    text = (
        "connection,joint,side,type,closed by,remarks\n"
        f"{error},t,L,line,,\n"
        f"H-1,{error},L,line,,\n"
        f"H-2,t,R,{error},{error},{error}\n"
        f"H-3,t,{error},line,,\n"
    )
    reading = reading_of(tmp_path, text)
    assert troubles_of(reading) == [
        (cell, f"{name}: the cell shows the error {error}")
        for cell, name in [
            ("A2", "connection"),
            ("B3", "joint"),
            ("D4", "type"),
            ("E4", "closed by"),
            ("F4", "remarks"),
            ("C5", "side"),
        ]
    ]
    assert reading.tables[0].column("connection") == ["H-2"]
    assert reading.tables[0].column("closed by") == [""]
    assert adds_up(reading)


def test_a_row_of_nothing_but_an_error(tmp_path):
    reading = reading_of(tmp_path, HEAD + "H-1,t,L,line,x\n#REF!,,,,\n")
    assert troubles_of(reading) == [("A3", "connection: the cell shows the error #REF!")]
    assert reading.accounts[0].aside == ((3, "its connection cannot be read"),)


@pytest.mark.parametrize("name", ["#1", "#REF", "REF!", "#N/A-1", "# 7", "Err", "Err:1"])
def test_names_like_errors_are_names(tmp_path, name):
    reading = reading_of(tmp_path, HEAD + f"{name},t,L,line,x\n")
    assert reading.tables[0].column("connection") == [name]
    assert not reading.troubles


def test_an_error_under_a_heading_that_is_not_read_is_no_finding(tmp_path):
    text = "connection,joint,side,type,price\nH-1,t,L,line,#REF!\nH-2,t,R,line,3\n"
    assert not reading_of(tmp_path, text).troubles
