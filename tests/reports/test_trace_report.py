import json

import pytest

from joinmatrix.answers.trace import trace
from joinmatrix.reports.trace_report import trace_json, trace_lines
from tests.builders import assembly_of, table
from tests.reports.answers_scene import on_paper, wing


def text_of(assembly, port, cells=80, encoding="utf-8"):
    found = trace(assembly, port)
    return on_paper(lambda paper: trace_lines(found, assembly, paper), cells, encoding)


@pytest.mark.parametrize("cells", [80, 160])
def test_wrongly_mated(golden, cells):
    golden(f"trace-{cells}.txt", text_of(wing(), "W1 L", cells))


def test_forked_and_open(golden):
    golden("trace-forked-80.txt", text_of(wing(), "W1 R"))


def test_ascii(golden):
    golden("trace-ascii-40.txt", text_of(wing(), "F1 R", 40, "ascii"))


def test_plan_says_that_it_is_one():
    text = text_of(wing(plan=True), "W1 L")
    assert "PLAN ONLY" in text
    assert "AS LISTED" in text
    assert "Where it is open" not in text


def test_all_made():
    lines = table("connections", "connection|joint|side|type|from|to\nA|j|L|bolt|P|Q")
    record = table("record", "connection|side|act\nA|L|made")
    text = text_of(assembly_of(lines, record), "P")
    assert "[PM·] A  j L" in text
    assert text.endswith("●C MADE all the way   1 connection, 0 runs\n")


def test_very_deep_routes_stay_on_the_paper():
    links = "\n".join(f"P{n} | P{n + 1} | L\nP{n} | E{n} | L" for n in range(60))
    lines = table("connections", "connection|joint|side|type|from|to\nA|j|L|bolt|P0|Q")
    text = text_of(assembly_of(lines, table("runs", "from|to|side\n" + links)), "Q", 60)
    assert max(map(len, text.splitlines())) <= 60
    assert "P60 L" in text


def test_what_cannot_be_understood_is_told():
    lines = table("connections", "connection|joint|side|type|from|to\nA|j|L|b|P|Q\nB|j|aft|b|Q|R")
    text = text_of(assembly_of(lines), "P")
    assert "NOT COMPLETE: 1 cell could not be understood" in text
    assert "connections.xlsx: Sheet!C3" in text


def test_a_rule_that_cannot_be_understood_does_not_concern_a_route():
    text = "connection|joint|side|type|from|to|timing\nA|j|L|b|P|Q|whenever it suits"
    assert "NOT COMPLETE" not in text_of(assembly_of(table("connections", text)), "P")


def test_json():
    assembly = wing()
    whole = json.loads(trace_json(trace(assembly, "W1 L"), assembly))
    assert list(whole)[:6] == ["format", "port", "side", "services", "ports", "links"]
    assert whole["format"] == "joinmatrix-trace/1"
    assert whole["ports"][0] == {"port": "W1", "side": "L"}
    assert list(whole["links"][0])[:6] == ["by", "joint", "side", "from", "to", "state"]
    assert [link["by"] for link in whole["links"]] == ["H-01", "run", "V-01"]
    assert whole["links"][0]["wrong"] == '"H-01" is mated to "F2", not to "F1"'
