import io

import pytest
from rich.console import Console

from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import NotUsed, Reading, RowAccount
from joinmatrix.place import Place
from joinmatrix.report import NotRun
from joinmatrix.reports.lines import Paper
from joinmatrix.reports.terminal import report_lines, write
from joinmatrix.reports.text import width
from joinmatrix.reports.view import WHOLE, View
from tests.builders import assembly_of, table
from tests.reports.scene import report_on, wing_report


def text_of(report, cells=80, encoding="utf-8", view=WHOLE, **console):
    """What stands on a console of a width and an encoding."""
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, newline="\n")
    write(report, Console(file=stream, width=cells, **console), view)
    stream.flush()
    return raw.getvalue().decode(encoding)


@pytest.mark.parametrize("cells", [80, 160])
def test_report(golden, cells):
    golden(f"terminal-{cells}.txt", text_of(wing_report(), cells))


def test_plan(golden):
    golden("terminal-plan-80.txt", text_of(wing_report(plan=True)))


def test_brief(golden):
    golden("terminal-brief-80.txt", text_of(wing_report(), view=View(brief=True)))


def test_narrowed(golden):
    view = View(joints=("tail cone",), sides=("L",))
    golden("terminal-narrowed-80.txt", text_of(wing_report(), view=view))


def test_ascii(golden):
    golden("terminal-ascii-80.txt", text_of(wing_report(), encoding="ascii"))


@pytest.mark.parametrize("cells", [40, 60, 80, 100, 160, 250])
def test_no_line_is_wider_than_the_terminal(cells):
    for line in report_lines(wing_report(), Paper(cells)):
        shown = "".join(text for text, _ in line).rstrip()
        assert width(shown) <= cells, shown


@pytest.mark.parametrize(
    "options",
    [
        pytest.param({"color_system": None}, id="pipe"),
        pytest.param({"force_terminal": True, "no_color": True}, id="no-color"),
        pytest.param({"force_terminal": True, "color_system": "standard"}, id="sixteen-colours"),
    ],
)
def test_marks_and_words_do_not_hang_on_colour(options):
    text = text_of(wing_report(), **options)
    for word in ("■H hold", "□O open", "●C clear", "■H1", "□O1", "◊N1", "[PMI]", "[Pxx]", "none"):
        assert word in text


def test_no_color_has_no_colour():
    text = text_of(wing_report(), force_terminal=True, no_color=True)
    assert "\x1b[1;7m" in text  # bold and reverse stay
    assert "\x1b[1;31m" not in text
    assert ";31" not in text


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "cp437", "utf-8"])
def test_every_encoding_can_take_it(encoding):
    report = report_on(assembly_of(table("connections", HOSTILE)))
    assert "joint" in text_of(report, encoding=encoding).lower()


HOSTILE = """
connection | joint | side | type | service | timing
[red]A[/red] | [link=x]wing[/link] | L | bolt\x1b[2J | \x9b31mfuel \u202eegrahcsid | after \x07mate
Ä-日本 🛩 | [link=x]wing[/link] | R | שלום | :skull: {x} | after a\u2028b
"""


def test_text_of_a_list_is_never_acted_on():
    report = report_on(
        assembly_of(table("connections", HOSTILE)),
        (
            Finding(
                Kind.UNREADABLE, Severity.HOLD, "cell says \x1b]0;title\x07 [blink]x", "fix [/] it",
                (Place("a\x1b.xlsx", "S[bold]", 2, 1),), joint="[link=x]wing[/link]",
                connections=("[red]A[/red]",),
            ),
        ),
    )  # fmt: skip
    text = text_of(report)
    assert all(character.isprintable() or character == "\n" for character in text)
    for shown in ("[red]A[/red]", "[link=x]wing[/link]", "<U+009B>31mfuel <U+202E>egrahcsid",
                  ":skull: {x}", "<U+001B>]0;title<U+0007> [blink]x", "S[bold]!A2"):  # fmt: skip
        assert shown in " ".join(text.split()), shown


def test_pairs_of_different_ids_stand_in_one_row():
    text = "connection | joint | side | type\nA-L | j | L | bolt\nA-R | j | R | bolt"
    assert "  A-L / A-R" in text_of(report_on(assembly_of(table("connections", text))))


def test_sides_that_do_not_fit_stand_below_each_other():
    joints = table("joints", "joint | alike sides\nring | 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12")
    lines = table("connections", "connection | joint | side | type\nA | ring | all | bolt")
    text = text_of(report_on(assembly_of(joints, lines)))
    headings = [line for line in text.splitlines() if line.startswith("  connection")]
    assert [heading.split()[1:] for heading in headings] == [
        ["1", "2", "3", "4", "5", "6", "7", "8"],
        ["9", "10", "11", "12"],
    ]


def long_report(rows):
    text = "connection | joint | side | type\n" + "\n".join(
        f"A-{number:04} | wing | L | bolt" for number in range(rows)
    )
    assembly = assembly_of(table("connections", text))
    findings = tuple(
        Finding(
            Kind.UNMADE, Severity.OPEN, f'"{each.id}" is not made', f'make "{each.id}"',
            each.id_cells, joint="wing", sides=("L",), connections=(each.id,),
        )
        for each in assembly.connections[: rows // 2]
    )  # fmt: skip
    last = assembly.connections[-1]
    hold = Finding(
        Kind.MISMATCHED, Severity.HOLD, "sizes differ", "correct it", last.id_cells,
        joint="wing", sides=("L",), connections=(last.id,),
    )  # fmt: skip
    return report_on(assembly, (*findings, hold))


def rows_in(text):
    return [
        line.split()[0] for line in text.splitlines() if line.startswith("  A-") and "[" in line
    ]


def test_all_rows_of_a_usual_joint_are_shown():
    text = text_of(long_report(60))
    assert len(rows_in(text)) == 60
    assert "not shown" not in text


def test_a_long_joint_shows_what_needs_a_look_first():
    text = text_of(long_report(1000))
    rows = rows_in(text)
    assert len(rows) == 60
    assert rows[0] == "A-0999"
    assert "940 more rows not shown" in text
    assert "--full" in text


def test_few_open_findings_are_told_one_by_one():
    assert text_of(long_report(24)).count("to clear") == 13


def test_more_open_findings_are_told_together_with_every_name():
    text = text_of(long_report(60))
    assert text.count("to clear") == 2
    assert "each is not made" in text
    assert all(f"A-{number:04}" in text.partition("Findings")[2] for number in range(30))


def test_very_many_open_findings_are_counted():
    text = text_of(long_report(1000))
    assert "□O1 to O500  wing L: 500 not made yet (unmade)" in text
    assert "and 440 more" in text


def test_full_shows_all():
    text = text_of(long_report(1000), view=View(full=True))
    assert len(rows_in(text)) == 1000
    assert "□O500  wing L: A-0499 (unmade)" in text


def test_more_holds_than_one_reads_are_counted():
    hold = long_report(10).findings[-1]
    report = report_on(long_report(10).assembly, (hold,) * 250)
    text = text_of(report)
    assert "■H200" in text
    assert "■H201" not in text
    assert "and 50 more: 50 mismatched." in " ".join(text.split())


def test_stopped_checks_hold_and_are_told():
    report = report_on(long_report(2).assembly, crashed=(NotRun((Kind.CROSSED,), "ValueError: x"),))
    text = text_of(report)
    assert "crossed was not checked to its end: ValueError: x" in text
    assert "HOLD" in text.splitlines()[-1]


def test_the_row_account_adds_up_before_the_eyes():
    reading = Reading(
        files=("a.xlsx",),
        accounts=(RowAccount("a.xlsx", "S", "connections", 1200, 1198, ((7, "w"), (8, "w"))),),
        not_used=(NotUsed("a.xlsx", "T", "empty"),),
    )
    lines = text_of(report_on(long_report(2).assembly, reading=reading)).splitlines()
    assert "    connections: S   1,200  1,198          2" in lines
    assert "      set aside  rows 7-8: w" in lines
    assert "    not used  T: empty" in lines
