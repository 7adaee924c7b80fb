import json

import pytest

from joinmatrix.answers.changes import Changes, changes
from joinmatrix.reports.changes_report import changes_json, changes_lines
from tests.builders import assembly_of, table
from tests.reports.answers_scene import LINES, on_paper, wing

NEW = (
    LINES.replace("W2 | F2 | -6", "W2 | F2 | -8")
    .replace("H-03 ", "H-33 ")
    .replace(
        "E-10 | outer wing | R | electrical connector | navigation light",
        "E-11 | outer wing | R | optical connector | camera",
    )
    .replace("J10 | P10 | 22", "J11 | P11 | 22")
)


def text_of(old, new, cells=80, encoding="utf-8", *, full=False):
    found = changes(old, new)
    return on_paper(lambda paper: changes_lines(found, new, paper, full=full), cells, encoding)


@pytest.mark.parametrize("cells", [80, 160])
def test_changes(golden, cells):
    golden(f"changes-{cells}.txt", text_of(wing(), wing(lines=NEW), cells))


def test_ascii(golden):
    golden("changes-ascii-60.txt", text_of(wing(), wing(lines=NEW), 60, "ascii"))


def test_nothing_changed():
    text = text_of(wing(), wing())
    assert text.count("nothing") == 3
    assert text.endswith("●C UNDOES NOTHING   0 added, 0 dropped, 0 altered\n")


def test_lists_that_only_one_issue_has():
    lines = table("connections", LINES)
    tools = table("tools", "tool|calibrated until\nT1|2031-01-01")
    text = text_of(assembly_of(lines), assembly_of(lines, tools))
    assert "NOT COMPARED  tools: only one of the two issues has such a list." in text


def test_very_many_entries_are_counted():
    headings = "connection|joint|side|type\n"
    rows = "".join(f"A-{n:03}|j|L|bolt|\n" for n in range(300))
    old = assembly_of(table("connections", headings + "Z|j|L|pin"))
    new = assembly_of(table("connections", headings + "Z|j|L|pin\n" + rows))
    assert "and 100 more: add --full" in text_of(old, new)
    assert "A-299" in text_of(old, new, full=True)


def test_work_to_look_at_is_no_hold():
    headings = "connection|joint|side|type|from|to\n"
    record = table("record", "connection|side|act\nA|L|made")
    old = assembly_of(table("connections", headings + "A|j|L|bolt|P|Q"), record)
    new = assembly_of(table("connections", headings + "A|j|L|pin|P|Q"), record)
    assert "□O RECORDED WORK TO LOOK AT (1)" in text_of(old, new)


def test_json():
    new = wing(lines=NEW)
    whole = json.loads(changes_json(changes(wing(), new), new))
    assert list(whole)[:5] == ["format", "added", "dropped", "altered", "undone"]
    assert whole["format"] == "joinmatrix-changes/1"
    assert [each["connection"] for each in whole["added"]] == ["E-11"]
    assert [each["connection"] for each in whole["dropped"]] == ["E-10"]
    first = whole["altered"][0]
    assert list(first)[:5] == ["connection", "side", "column", "old", "new"]
    assert {(each["column"], each["old"], each["new"]) for each in whole["altered"]} == {
        ("connection", "H-03", "H-33"),
        ("size", "-6", "-8"),
    }
    assert whole["undone"][0]["kind"] == "uninspected"


def test_json_of_what_is_no_connection():
    old = assembly_of(table("connections", LINES), table("stages", "stage|after\nrig|"))
    new = assembly_of(table("connections", LINES), table("stages", "stage|after\nrig|\nfly|rig"))
    (added,) = json.loads(changes_json(changes(old, new), new))["added"]
    assert (added["what"], added["name"], added["connection"]) == ("stage", "fly", "")


def test_no_changes_is_an_empty_answer():
    whole = json.loads(changes_json(Changes(), wing()))
    assert [whole[name] for name in ("added", "dropped", "altered", "undone")] == [[]] * 4
