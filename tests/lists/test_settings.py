import pytest

from joinmatrix.errors import InputError
from joinmatrix.lists.reader import read
from tests.lists.making import separated, workbook


def make(tmp_path, toml, text="Verb.-Nr. | joint | side | type\nH-1 | tail | links | Rohr"):
    workbook(tmp_path / "lists" / "sub" / "a.xlsx", S=text)
    (tmp_path / "lists" / "joinmatrix.toml").write_text(toml, encoding="utf-8")
    return tmp_path / "lists"


def test_headings_and_words(tmp_path):
    toml = """
        [headings]
        "Verb. Nr." = "connection"
        [words.side]
        Links = "L"
        [words.type]
        "rohr" = "hydraulic line"
    """
    folder = make(tmp_path, toml)
    reading = read([folder])
    table = reading.tables[0]
    assert table.column("connection") == ["H-1"]
    assert table.column("side") == ["L"]
    assert table.column("type") == ["hydraulic line"]
    assert [name.rpartition("lists/")[2] for name in reading.files] == [
        "joinmatrix.toml",
        "sub/a.xlsx",
    ]
    # A file given by name has the settings beside it, not those of folders above.
    assert not read([folder / "sub" / "a.xlsx"]).tables


def test_headings_of_one_kind_of_list_and_columns_not_to_read(tmp_path):
    toml = """
        [headings.record]
        Wann = "when"
        [headings]
        Tag = ""
    """
    folder = make(tmp_path, toml, "Wann | connection | Tag | act\n2026-03-04 | H-1 | T-1 | made")
    reading = read([folder])
    assert list(reading.tables[0].numbers) == ["when", "connection", "act"]
    assert not reading.troubles


def test_sheets(tmp_path):
    toml = """
        [sheets.S]
        joint = "outer wing"
        side = "L"
        [sheets."Old issue"]
        read = false
    """
    folder = make(tmp_path, toml, "connection | type\nH-1 | line")
    workbook(folder / "b.xlsx", **{"Old issue": "connection | joint | side | type\nH | t | L | x"})
    reading = read([folder])
    table = reading.tables[0]
    assert (table.column("joint"), table.column("side")) == (["outer wing"], ["L"])
    assert [(each.sheet, each.why.rpartition("/")[2]) for each in reading.not_used] == [
        ("Old issue", "joinmatrix.toml says")
    ]


@pytest.mark.parametrize(
    ("toml", "found"),
    [
        pytest.param("[headings", "is no TOML", id="broken"),
        pytest.param("[heading]", 'the table "heading" is unknown. Write "headings"', id="table"),
        pytest.param('[headings]\nx = "conection"', 'Write "connection"', id="column"),
        pytest.param('[headings.conections]\nx = ""', 'Write "connections"', id="kind"),
        pytest.param("[headings]\nx = 1", "is no text. Put it in quotes", id="number"),
        pytest.param("[words.sid]\nx = ''", 'the column "sid" is unknown', id="word-column"),
        pytest.param("[sheets.S]\nname = 1", 'of sheet "S", "name" is unknown', id="sheet"),
        pytest.param("[sheets.S]\nread = 1", "Write true or false", id="read"),
        pytest.param("headings = 1", '"headings" is no table', id="no-table"),
        pytest.param(f"x = {'1' * 6000}", "is no TOML", id="a-number-without-an-end"),
        pytest.param(
            '[words.when]\nheute = "2031-03-04"',
            '"words.when" cannot be given: the column holds dates or times',
            id="words-for-dates",
        ),
        pytest.param('[words.time]\nspaet = "6:00"', '"words.time" cannot be given', id="times"),
    ],
)
def test_settings_that_mean_nothing(tmp_path, toml, found):
    with pytest.raises(InputError) as caught:
        read([make(tmp_path, toml)])
    assert found in str(caught.value)
    assert "lists/joinmatrix.toml" in str(caught.value)


# --- words where no column is

SIDES = """
    [headings]
    "Verb.-Nr." = "connection"
    [words.side]
    links = "L"
    rechts = "R"
    [words.joint]
    "Ringstoß" = "ring"
"""


def sides_of(reading):
    tables = [(table.column("connection"), table.column("side")) for table in reading.tables]
    return sorted(pair for names, sides in tables for pair in zip(names, sides, strict=True))


def test_words_for_the_headings_of_a_matrix(tmp_path):
    folder = make(
        tmp_path, SIDES, "Verb.-Nr. | joint | type | Links | Rechts\nK-1 | ring | Rohr | x | x"
    )
    reading = read([folder])
    assert sides_of(reading) == [("K-1", "L"), ("K-1", "R")]
    assert not [each for each in reading.troubles if each.holds]


@pytest.mark.parametrize("label", ["", "Side: "])
def test_words_for_titles_between_the_rows(tmp_path, label):
    text = f"""
        Verb.-Nr. | joint | type
        {label}Links | |
        K-1 | ring | Rohr
        {label}Rechts | |
        K-1 | ring | Rohr
    """
    reading = read([make(tmp_path, SIDES, text)])
    assert sides_of(reading) == [("K-1", "L"), ("K-1", "R")]
    assert not [each for each in reading.troubles if each.holds]


def test_words_for_the_name_of_a_sheet(tmp_path):
    folder = make(tmp_path, SIDES)
    rows = "Verb.-Nr. | side | type\nK-1 | links | Rohr"
    workbook(folder / "sub" / "a.xlsx", **{"Ringstoß": rows})
    table = read([folder]).tables[0]
    assert (table.column("joint"), table.column("side")) == (["ring"], ["L"])


# --- units in the brackets of a heading that is explained


@pytest.mark.parametrize(
    ("heading", "said", "meaning", "cell", "read_as"),
    [
        pytest.param("NW (mm)", "NW (mm)", "size", "12", "12 mm", id="in-full"),
        pytest.param("NW (mm)", "NW", "size", "12", "12 mm", id="without-the-brackets"),
        pytest.param("NW (mm)", "NW", "size", "1/2 in", "1/2 in", id="a-unit-of-its-own"),
        pytest.param("Anzug (Nm)", "Anzug", "limits", "20..30", "20..30 Nm", id="limits"),
        pytest.param(
            "Anzug (Nm)", "Anzug", "limits", "torque 5..6; threads >= 1",
            "torque 5..6; threads >= 1", id="several-limits",
        ),
        pytest.param("Anzug (neu 2)", "Anzug", "limits", "5..6", "5..6", id="no-unit"),
        pytest.param("Rohr (alt)", "Rohr", "service", "Öl 2", "Öl 2", id="no-column-with-units"),
    ],
)  # fmt: skip
def test_units_of_headings(tmp_path, heading, said, meaning, cell, read_as):
    toml = f"""
        [headings]
        "{said}" = "{meaning}"
    """
    text = f"connection | joint | side | type | {heading}\nK-1 | ring | L | Rohr | {cell}"
    reading = read([make(tmp_path, toml, text)])
    assert reading.tables[0].column(meaning) == [read_as]
    assert not reading.troubles


def test_a_column_not_to_read_is_named_in_full(tmp_path):
    toml = """
        [headings]
        Size = ""
    """
    text = "connection | joint | side | type | Size (mm)\nK-1 | ring | L | Rohr | 12"
    assert read([make(tmp_path, toml, text)]).tables[0].column("size") == ["12 mm"]


def test_settings_that_are_no_text(tmp_path):
    folder = make(tmp_path, "")
    separated(folder / "joinmatrix.toml", b"\xff\xfe\x00")
    with pytest.raises(InputError, match="is no TOML"):
        read([folder])
