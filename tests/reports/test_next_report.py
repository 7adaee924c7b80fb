import json

import pytest

from joinmatrix.answers.next_acts import next_acts
from joinmatrix.answers.window import windows
from joinmatrix.reports.next_report import next_json, next_lines, window_json, window_lines
from tests.builders import assembly_of, table
from tests.reports.answers_scene import on_paper, wing


def text_of(assembly, cells=80, encoding="utf-8", *, full=False, **options):
    found = next_acts(assembly, **options)
    return on_paper(lambda paper: next_lines(found, assembly, paper, full=full), cells, encoding)


def window_of(assembly, connection, cells=80, encoding="utf-8"):
    found = windows(assembly, connection)
    return on_paper(lambda paper: window_lines(found, assembly, paper), cells, encoding)


@pytest.mark.parametrize("cells", [80, 160])
def test_next(golden, cells):
    golden(f"next-{cells}.txt", text_of(wing(), cells))


def test_ascii(golden):
    golden("next-ascii-50.txt", text_of(wing(), 50, "ascii", side="L"))


def test_window(golden):
    golden("window-80.txt", window_of(wing(), "C-01-RH") + window_of(wing(), "V-01"))


def test_nothing_left():
    lines = table("connections", "connection|joint|side|type\nA|j|L|bolt")
    record = table("record", "connection|side|act|when\nA|L|made|2031-01-01\nA|L|inspected|")
    text = text_of(assembly_of(lines, record))
    assert "●C NOTHING LEFT TO DO" in text


def test_an_order_that_is_impossible_is_told_as_such():
    lines = "connection|joint|side|type|timing|closed by\nA|j|L|bolt|after mate|mate"
    text = window_of(assembly_of(table("connections", lines)), "A")
    assert "make     ■H never: its rules cannot all be met" in text


def test_very_many_acts_are_counted():
    rows = "".join(f"A-{n:03}|j|L|bolt|\n" for n in range(300))
    assembly = assembly_of(table("connections", "connection|joint|side|type|timing\n" + rows))
    assert "and 100 more acts: add --full" in text_of(assembly)
    assert "make     A-299 L" in text_of(assembly, full=True)


def test_json():
    assembly = wing()
    whole = json.loads(next_json(next_acts(assembly), assembly))
    assert list(whole)[:3] == ["format", "now", "waiting"]
    assert whole["format"] == "joinmatrix-next/1"
    step = ["act", "connection", "item", "stage", "side"]
    assert list(whole["now"][0])[:6] == [*step, "before"]
    assert list(whole["waiting"][0])[:6] == [*step, "for"]
    assert all(isinstance(each["for"], list) for each in whole["waiting"])


def test_json_of_a_window():
    assembly = wing()
    whole = json.loads(window_json(windows(assembly, "C-01-RH"), assembly))
    assert whole["format"] == "joinmatrix-window/1"
    made = whole["windows"][1]
    assert (made["act"], made["connection"], made["side"]) == ("made", "C-01-RH", "R")
    assert made["after"] == [{"stage": "outer wing mate", "side": "R", "act": "done"}]
