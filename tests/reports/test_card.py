import re

import pytest

from joinmatrix.answers.seals import FileSeal, Seals
from joinmatrix.answers.statement import Agreed, Count, Statement, Unchecked
from joinmatrix.errors import CallError
from joinmatrix.reports import cautions
from joinmatrix.reports.card import Chosen, card, readings
from joinmatrix.reports.card_page import to_card_page
from joinmatrix.reports.card_text import PAGE_LINES, WIDTH, to_card_text
from joinmatrix.reports.statement_page import to_statement_page
from joinmatrix.reports.text import width
from tests.builders import assembly_of, table
from tests.reports.browser import printed
from tests.reports.scene import report_on, wing_report
from tests.reports.test_page import Outline, hostile_report

DIGESTS = {"lists/wing.xlsx": "ab" * 32, "lists/record.csv": "cd" * 32}
HEAD = "connection | joint | side | type | service | from | to | place | timing | inspect | closed by | limits\n"  # noqa: E501


def tasks(report, **chosen):
    """The tasks of a card as "make H-01 L", each section with its title in front."""
    made = card(report, Chosen(**chosen), DIGESTS)
    return {
        section.title: [f"{each.do} {each.name} {each.side}" for each in section.tasks]
        for section in made.sections
    }


def report_of(text, record="", temporary=""):
    lists = [table("connections", HEAD + text)]
    if record:
        lists.append(table("record", record))
    if temporary:
        lists.append(table("temporary", temporary))
    return report_on(assembly_of(*lists))


@pytest.mark.parametrize("name", ["card-page.html", "card.txt"])
def test_card(golden, name):
    made = card(wing_report(), Chosen(joint="outer wing", side="L"), DIGESTS)
    if name == "card.txt":
        golden(name, to_card_text(made))
    else:
        body = to_card_page(made).partition("<body>")[2]
        golden(name, body.replace("><", ">\n<"))


def test_done_acts_are_left_out_and_counted():
    made = card(wing_report(), Chosen(joint="tail cone", side="L"), DIGESTS)
    assert made.sections == ()
    assert made.done == 3  # made without an entry for placing was placed
    assert "Nothing is left to do here." in to_card_page(made)


def test_tasks_stand_by_what_they_wait_for():
    report = report_of(
        """
        B | j | L | bolt | | | | | after mate | after rigging |
        A | j | L | cable | | | | before mate | after B | |
        C | j | L | strap | | | | | | |
        """
    )
    assert tasks(report, joint="j") == {
        "At any time": ["place A L", "make C L", "inspect C L", "make A L", "inspect A L"],
        "Once mate is done": ["make B L"],
        "Once rigging is done": ["inspect B L"],
    }


def test_stage_has_all_that_must_be_over_before_it_starts():
    report = report_of(
        """
        A | j | L | line | | | | | before B | |
        B | j | L | line | | | | | | | fairing
        C | j | L | line | | | | | during fairing | |
        D | j | L | line | | | | | after fairing | |
        E | j | L | line | | | | | after mate | |
        """
    )
    assert tasks(report, stage="Fairing") == {
        "Before Fairing starts": ["make A L", "make B L", "inspect B L"],
        "While Fairing goes on": ["make C L"],
        "After Fairing is done": ["make D L"],
    }


def test_stage_of_one_side_takes_that_side():
    lines = table("connections", HEAD + "A | j | both | line | | | | | | | fairing")
    stages = table("stages", "stage | side\nfairing | both")
    found = tasks(report_on(assembly_of(lines, stages)), stage="fairing", side="r")
    assert found == {"Before fairing starts": ["make A R", "inspect A R"]}


def test_temporary_items_come_off():
    report = report_of(
        "A | j | L | hydraulic line | | | | | | |",
        temporary="temporary item | joint | side | type | connection\ncap 7 | j | L | cap | A",
    )
    found = card(report, Chosen(joint="j"), {})
    removal = found.sections[0].tasks[0]
    assert (removal.do, removal.name, removal.rule) == ("remove", "cap 7", "before A is made")


def test_lookalikes_stand_beside_each_other_and_say_how_they_differ():
    text = "connection | joint | side | type | service | part | size\n" + "\n".join(
        (
            "A | j | L | hydraulic line | brake | 29-1 | -6",
            "X | j | L | bolt | strut | | 3/8",
            "B | j | L | hydraulic line | return | 29-2 | -6",
        )
    )
    made = card(report_on(assembly_of(table("connections", text))), Chosen(joint="j"), {})
    names = [each.name for each in made.sections[0].tasks]
    assert names == ["A", "A", "B", "B", "X", "X"]
    (group,) = made.swappable
    assert [member[:2] for member in group.members] == [("A", "brake"), ("B", "return")]
    assert group.told_by == "told apart by part only"
    assert '<b class="swap">A</b>' in to_card_page(made)


def test_holds_of_the_connections_stand_first():
    made = card(wing_report(), Chosen(joint="outer wing", side="L"), {})
    assert [each.label for each in made.holds] == ["H1", "H2"]
    text = to_card_text(made)
    assert text.index("HOLDS on this work") < text.index("[ ]")


@pytest.mark.parametrize(
    ("limits", "said"),
    [
        pytest.param("", (), id="none"),
        pytest.param("torque 135..150 in-lbf; threads >= 1; slot = aft",
                     ("torque 135..150 in-lbf", "threads >= 1", "slot = aft"), id="several"),
        pytest.param("see drawing; torque 5..6 Nm", ("see drawing; torque 5..6 Nm",), id="unclear"),
    ],
)  # fmt: skip
def test_readings(limits, said):
    assert readings(limits) == said


@pytest.mark.parametrize(
    ("kind", "service", "said"),
    [
        pytest.param("placard", "", [], id="none"),
        pytest.param("hydraulic line", "", [cautions.PRESSURE], id="fluid"),
        pytest.param("electrical connector", "", [cautions.POWER], id="electrical"),
        pytest.param("line", "oxygen", [cautions.PRESSURE, cautions.OXYGEN], id="oxygen"),
        pytest.param("fuel line", "", [cautions.PRESSURE, cautions.FUEL], id="fuel"),
        pytest.param("control cable", "aileron up", [cautions.CONTROLS], id="control"),
        pytest.param("bolt", "wing attachment", [cautions.CARRYING], id="carrying"),
    ],
)
def test_cautions(kind, service, said):
    text = f"connection | joint | side | type | service\nA | j | L | {kind} | {service}"
    assembly = assembly_of(table("connections", text))
    assert list(cautions.cautions(assembly.connections)) == said


@pytest.mark.parametrize(
    ("chosen", "message"),
    [
        pytest.param(
            {"joint": "outer wings"},
            'no joint is called "outer wings". Known: "outer wing".',
            id="joint",
        ),
        pytest.param({"side": "Q"}, 'no side is called "Q". Known: "L", "R" or "C".', id="side"),
        pytest.param(
            {"stage": "riging"}, 'no stage is called "riging". Known: "rigging".', id="stage"
        ),
    ],
)
def test_card_of_what_is_not_there(chosen, message):
    with pytest.raises(CallError) as caught:
        card(wing_report(), Chosen(**chosen), {})
    assert str(caught.value) == message


def long_card(count=60):
    text = "\n".join(
        f"H-{number:03} | j | L | hydraulic line | service {number} | F{number} | T{number} | "
        "before mate | after mate; before pressure on | after leak check | fairing | "
        "torque 135..150 in-lbf; threads >= 1"
        for number in range(count)
    )
    return card(report_of(text), Chosen(joint="j", side="L"), DIGESTS)


def test_text_is_in_numbered_pages_that_cut_no_task():
    pages = to_card_text(long_card()).split("\f")
    assert len(pages) > 10
    for number, page in enumerate(pages, 1):
        lines = page.splitlines()
        assert lines[0].endswith(f"page {number} of {len(pages)}")
        assert len(lines) <= PAGE_LINES
        assert all(width(line) <= WIDTH for line in lines)
        assert page.count("[ ]") == page.count("initials ____")
    assert sum(page.count("[ ]") for page in pages) == 180


def test_text_in_an_encoding_that_has_little():
    text = "Ä-1 | j | L | line | é | | | | | |"
    made = card(report_of(text), Chosen(joint="j"), {})
    assert to_card_text(made, "ascii").isascii()


def test_what_a_list_says_is_never_acted_on():
    made = card(hostile_report(), Chosen(), {"<b>.xlsx": "<i>"})
    page = to_card_page(made)
    assert Outline(page).tags & {"script", "img", "i"} == set()
    assert "\u202e" not in page + to_card_text(made)
    assert "</style" not in page.partition("<style>")[2].partition("</style>")[0]
    assert all(each.isprintable() or each in "\n\f" for each in to_card_text(made))


def test_page_has_numbers_unit_and_boxes():
    page = to_card_page(long_card(3))
    assert 'counter(page) " of " counter(pages)' in page
    assert page.count('class="box"') == 9
    assert page.count('class="read"') == 6
    assert "ab" * 32 in page
    assert "pressure off" in page.lower()
    assert "It replaces neither the maintenance manual" in page.replace("\n", " ")


@pytest.mark.desktop
@pytest.mark.parametrize("size", ["A4", "letter"])
def test_paper_cuts_no_task(size):
    text = "connection | joint | side | type | service | timing | remarks\n" + "\n".join(
        f"H-{number:03} | j | L | line {number} | first{number:03} " + "word " * (number % 40)
        + f"| {'after mate; ' * (number % 7)} | last{number:03}"
        for number in range(40)
    )  # fmt: skip
    made = card(report_on(assembly_of(table("connections", text))), Chosen(joint="j"), DIGESTS)
    page = to_card_page(made).replace("@page {", f"@page {{ size: {size};")
    page = re.sub(r"<meta http-equiv[^>]*>", "", page)  # the style is not the page's own any more
    sheets = printed(page)
    assert len(sheets) > 5
    for number, sheet in enumerate(sheets, 1):
        assert f"page {number} of {len(sheets)}" in sheet
        assert "joint j" in sheet
        tasks_part = sheet.partition("date, time")[2]
        ends = re.findall(r"last(\d+)", tasks_part)
        assert set(ends) <= set(re.findall(r"first(\d+)", tasks_part))
    assert len(set(re.findall(r"last(\d+)", "".join(sheets)))) == 40


def statement():
    return Statement(
        unit="<7>",
        date="2031-04-03T10:10:00+00:00",
        by="A & B",
        program="joinmatrix 0.1",
        as_of="",
        counts=(Count("outer wing", "L", 30, 30, 30),),
        agreed=(
            Agreed("outer wing", "AC-103", "", "L", "", "tab on one side", "ENG", "p.xlsx", "D", 4),
        ),
        unchecked=(Unchecked(("left-fitted",), "no temporary list was given"),),
        notes={"lookalike": 12},
        inputs=Seals((FileSeal("p.xlsx", "ab" * 32, 1234),), ()),
    )


def test_statement(golden):
    page = to_statement_page(statement())
    golden("statement-page.html", page.partition("<body>")[2].replace("><", ">\n<"))
    text = re.sub(r"<[^>]+>", " ", page)
    assert "●C CLEAR" in text
    assert "&lt;7&gt;" in page
    Outline(page)
