import csv
import json

import pytest

from joinmatrix.answers.sequence import sequence
from joinmatrix.answers.spare_rules import spare_rules
from joinmatrix.answers.stage_order import stage_order
from joinmatrix.reports.sequence_report import (
    sequence_csv,
    sequence_json,
    sequence_lines,
    time_text,
)
from tests.builders import assembly_of, table
from tests.reports.answers_scene import on_paper, wing

IMPOSSIBLE = "connection|joint|side|type|timing|closed by\nA|j|L|bolt|after mate|mate\nB|j|L|pin||"


def text_of(assembly, cells=80, encoding="utf-8", *, full=False, spare=None):
    found, stages = sequence(assembly), stage_order(assembly)
    return on_paper(
        lambda paper: sequence_lines(found, stages, assembly, paper, spare=spare, full=full),
        cells,
        encoding,
    )


@pytest.mark.parametrize("cells", [80, 160])
def test_sequence(golden, cells):
    golden(f"sequence-{cells}.txt", text_of(wing(), cells))


def test_plan_in_ascii(golden):
    golden("sequence-plan-ascii-60.txt", text_of(wing(plan=True), 60, "ascii"))


def test_no_order(golden):
    golden("sequence-none-80.txt", text_of(assembly_of(table("connections", IMPOSSIBLE))))


def test_rules_that_go_without_saying():
    assembly = wing()
    text = " ".join(text_of(assembly, spare=spare_rules(assembly)).split())
    assert 'in "fairing fitted", before "fairing fitted" starts goes without saying' not in text
    assert "Rules that go without saying (" in text


def test_no_stages():
    lines = table("connections", "connection|joint|side|type\nA|j|L|bolt")
    assert "no list names a stage" in text_of(assembly_of(lines))


def test_very_many_acts_are_counted():
    rows = "".join(f"A-{n:03}|j|L|bolt|\n" for n in range(300))
    assembly = assembly_of(table("connections", "connection|joint|side|type|timing\n" + rows))
    assert "and 200 more acts: add --full" in text_of(assembly)
    assert "A-299 L" in text_of(assembly, full=True)


@pytest.mark.parametrize(
    ("minutes", "text"),
    [
        pytest.param(None, "-", id="no-time"),
        pytest.param(0, "0", id="at-once"),
        pytest.param(45, "45min", id="minutes"),
        pytest.param(24 * 60, "1d", id="a-day"),
        pytest.param(30 * 60 + 5, "1d 6h 5min", id="all"),
    ],
)
def test_times(minutes, text):
    assert time_text(minutes) == text


def test_json():
    assembly = wing()
    whole = json.loads(sequence_json(sequence(assembly), stage_order(assembly), assembly))
    assert list(whole)[:4] == ["format", "feasible", "order", "contradiction"]
    assert whole["format"] == "joinmatrix-sequence/1"
    assert whole["feasible"] is True
    assert whole["contradiction"] is None
    assert list(whole["order"][0])[:7] == [
        "act", "connection", "item", "stage", "side", "earliest", "latest",
    ]  # fmt: skip
    assert "spare rules" not in whole


def test_json_without_an_order():
    assembly = assembly_of(table("connections", IMPOSSIBLE))
    whole = json.loads(
        sequence_json(sequence(assembly), stage_order(assembly), assembly, spare_rules(assembly))
    )
    assert (whole["feasible"], whole["order"]) == (False, [])
    assert whole["contradiction"]["kind"] == "contradiction"
    assert whole["spare rules"] == []


def test_csv():
    assembly = wing()
    found = sequence(assembly)
    rows = list(csv.DictReader(sequence_csv(found, assembly).splitlines()))
    assert len(rows) == len(found.order)
    assert rows[0]["number"] == "1"
    assert {row["act"] for row in rows} >= {"made", "inspected", "removed", "started", "done"}


def test_csv_is_inert():
    lines = table("connections", "connection|joint|side|type\n=1+1|j|L|bolt")
    assembly = assembly_of(lines)
    assert "'=1+1" in sequence_csv(sequence(assembly), assembly)
