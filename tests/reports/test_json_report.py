import json

import pytest

from joinmatrix.findings import Kind
from joinmatrix.reports.json_report import to_json
from joinmatrix.reports.view import View
from tests.builders import assembly_of, table
from tests.reports.scene import report_on, wing_report
from tests.reports.test_terminal import HOSTILE


def test_report(golden):
    golden("check.json", to_json(wing_report()))


def test_fields_are_those_that_are_promised():
    whole = json.loads(to_json(wing_report()))
    assert list(whole)[:8] == [
        "format", "verdict", "plan only", "rows", "not used", "connections", "joints", "findings",
    ]  # fmt: skip
    assert list(whole["rows"][0]) == ["file", "sheet", "list", "read", "used", "aside"]
    assert list(whole["connections"][0]) == [
        "connection", "side", "joint", "type", "service", "state", "made", "inspected",
    ]  # fmt: skip
    assert list(whole["joints"][0]) == [
        "joint", "side", "verdict", "connections", "made", "inspected",
    ]  # fmt: skip
    assert list(whole["findings"][0]) == [
        "kind", "severity", "joint", "side", "sides", "connections", "stages", "items",
        "message", "clears", "cells",
    ]  # fmt: skip


def test_same_report_same_bytes():
    assert to_json(wing_report()) == to_json(wing_report())


def test_times_of_what_counts():
    record = """
    connection | side | act | when
    A | L | made | 2031-03-04T10:30
    A | R | made |
    B | L | made | 2031-03-04
    B | L | opened | 2031-03-05
    """
    lines = "connection | joint | side | type\nA | j | both | bolt\nB | j | L | bolt"
    report = report_on(assembly_of(table("connections", lines), table("record", record)))
    whole = json.loads(to_json(report))
    assert [(c["connection"], c["side"], c["state"], c["made"]) for c in whole["connections"]] == [
        ("A", "L", "made", "2031-03-04 10:30"),
        ("A", "R", "made", "undated"),
        ("B", "L", "placed", ""),
    ]


def test_any_text_comes_back_as_it_was():
    report = report_on(assembly_of(table("connections", HOSTILE)))
    text = to_json(report)
    text.encode("utf-8")
    assert [c["connection"] for c in json.loads(text)["connections"]] == [
        "[red]A[/red]",
        "Ä-日本 🛩",
    ]


def test_half_a_character_can_be_written():
    lines = "connection | joint | side | type\nA\ud800 | j | L | bolt"
    text = to_json(report_on(assembly_of(table("connections", lines))))
    text.encode("utf-8")
    assert json.loads(text)["connections"][0]["connection"] == "A\ud800"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("K\u202e-1", "K\\u202e-1"),
        ("K\x7f\x9b[31m", "K\\u007f\\u009b[31m"),
        ("K\x7f1", "K\\u007f1"),
        ("K\u2066\u200f", "K\\u2066\\u200f"),
        ("K\U000e0041", "K\\udb40\\udc41"),
        ("Ø 20 日本 🛩", "Ø 20 日本 🛩"),
    ],
)
def test_nothing_acts_on_a_terminal(text, written):
    lines = f"connection | joint | side | type\n{text} | j | L | bolt"
    made = to_json(report_on(assembly_of(table("connections", lines))))
    assert f'"connection": "{written}"' in made
    assert json.loads(made)["connections"][0]["connection"] == text


def test_narrowed_keeps_the_verdict_of_the_whole():
    whole = json.loads(to_json(wing_report(), View(joints=("tail cone",), kinds=(Kind.UNMADE,))))
    assert whole["verdict"] == "hold"
    assert whole["findings"] == []
    assert {joint["joint"] for joint in whole["joints"]} == {"tail cone"}
