import json

import pytest

from joinmatrix.answers.gate import gate
from joinmatrix.reports.gate_report import gate_json, gate_lines
from tests.builders import assembly_of, table
from tests.reports.answers_scene import on_paper, wing


def text_of(assembly, stage, cells=80, encoding="utf-8", *, full=False):
    found = gate(assembly, stage)
    return on_paper(lambda paper: gate_lines(found, assembly, paper, full=full), cells, encoding)


@pytest.mark.parametrize("cells", [80, 160])
def test_hold(golden, cells):
    golden(f"gate-{cells}.txt", text_of(wing(), "fairing fitted L", cells))


def test_both_sides_and_items(golden):
    golden("gate-sides-80.txt", text_of(wing(), "outer wing mate"))


def test_ascii(golden):
    golden("gate-ascii-60.txt", text_of(wing(), "rigging", 60, "ascii"))


def test_go():
    text = text_of(wing(), "float mate L")
    assert "nothing more" in text
    assert "it closes over nothing" in text
    assert text.endswith(" ●C GO\n")


def test_something_not_understood_holds():
    lines = "connection|joint|side|type|timing\nA|j|L|bolt|after mate\nB|j|L|bolt|when it suits"
    text = text_of(assembly_of(table("connections", lines)), "mate")
    assert "Not understood: it may hide something" in text
    assert text.endswith("■H HOLD   1 not understood\n")


def test_very_many_acts_are_counted():
    rows = "".join(f"A-{n:03}|j|L|bolt|before mate\n" for n in range(300))
    lines = table("connections", "connection|joint|side|type|timing\n" + rows)
    assembly = assembly_of(lines)
    assert "and 100 acts more: add --full" in text_of(assembly, "mate")
    assert "make  A-299 L" in text_of(assembly, "mate", full=True)


def test_json():
    whole = json.loads(gate_json(gate(wing(), "fairing fitted L")))
    assert list(whole)[:6] == ["format", "stage", "side", "answer", "missing", "last chance"]
    assert whole["format"] == "joinmatrix-gate/1"
    assert (whole["stage"], whole["side"], whole["answer"]) == ("fairing fitted", "L", "hold")
    assert list(whole["missing"][0]) == [
        "act", "connection", "item", "stage", "side", "why", "cells",
    ]  # fmt: skip
    assert list(whole["last chance"][0]) == [
        "act", "connection", "item", "stage", "side", "done",
    ]  # fmt: skip
