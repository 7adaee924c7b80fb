"""What holds for the outputs of every answer."""

import json

import pytest

from joinmatrix import library
from joinmatrix.answers.sign_off import SignOff
from joinmatrix.reports.changes_report import changes_json, changes_lines
from joinmatrix.reports.gate_report import gate_json, gate_lines
from joinmatrix.reports.lines import Paper
from joinmatrix.reports.next_report import next_json, next_lines, window_json, window_lines
from joinmatrix.reports.sequence_report import sequence_json, sequence_lines
from joinmatrix.reports.sides_report import sides_json, sides_lines
from joinmatrix.reports.sign_off_report import sign_off_json, sign_off_lines
from joinmatrix.reports.text import width
from joinmatrix.reports.trace_report import trace_json, trace_lines
from joinmatrix.verify import report_on
from tests.builders import reading_of, table
from tests.reports.answers_scene import (
    DIFFERENCES,
    LINES,
    RECORD,
    RUNS,
    STAGES,
    TEMPORARY,
    on_paper,
)

EVIL = "\x1b[31m=x\u202e[b]\x9b日本:skull:"


def tables(evil):
    """The scene; with names that a terminal would act on, when asked for."""

    def text(lists):
        if not evil:
            return lists
        for name in ("outer wing", "H-01", "brake pressure", "fairing fitted", "W1", "wing sling"):
            lists = lists.replace(name, name + EVIL)
        return lists

    lists = {
        "connections": LINES, "stages": STAGES, "runs": RUNS, "differences": DIFFERENCES,
        "temporary": TEMPORARY, "record": RECORD,
    }  # fmt: skip
    file = f"lists{EVIL}.xlsx" if evil else "lists.xlsx"
    return [table(kind, text(lines), file=file, sheet=kind) for kind, lines in lists.items()]


def outputs(evil):
    """Each answer by its name: the lines on a paper, and the JSON text."""
    report = report_on(reading_of(*tables(evil)))
    lists, more = report.assembly, EVIL if evil else ""
    gate = library.gate(lists, "rigging")
    acts = library.next_acts(lists)
    windows = library.windows(lists, f"H-01{more}")
    order, stages = library.sequence(lists), library.stage_order(lists)
    spare = library.spare_rules(lists)
    sides = library.sides(lists)
    trace = library.trace(lists, f"W1{more}", "L")
    changes = library.changes(lists, report_on(reading_of(*tables(not evil))))
    refused = SignOff(report, None, ("it holds",))
    return {
        "gate": (lambda on: gate_lines(gate, lists, on), lambda: gate_json(gate)),
        "next": (lambda on: next_lines(acts, lists, on), lambda: next_json(acts, lists)),
        "window": (
            lambda on: window_lines(windows, lists, on), lambda: window_json(windows, lists)
        ),
        "sequence": (
            lambda on: sequence_lines(order, stages, lists, on, spare=spare),
            lambda: sequence_json(order, stages, lists, spare),
        ),
        "sides": (lambda on: sides_lines(sides, lists, on), lambda: sides_json(sides, lists)),
        "trace": (lambda on: trace_lines(trace, lists, on), lambda: trace_json(trace, lists)),
        "changes": (
            lambda on: changes_lines(changes, lists, on), lambda: changes_json(changes, lists)
        ),
        "sign-off": (lambda on: sign_off_lines(refused, on), lambda: sign_off_json(refused)),
    }  # fmt: skip


ANSWERS = ("gate", "next", "window", "sequence", "sides", "trace", "changes", "sign-off")
TAME, WILD = outputs(evil=False), outputs(evil=True)


@pytest.mark.parametrize("cells", [40, 60, 80, 100, 160])
@pytest.mark.parametrize("answer", ANSWERS)
def test_no_line_is_wider_than_the_terminal(answer, cells):
    lines_on, _ = TAME[answer]
    for line in lines_on(Paper(cells)):
        shown = "".join(text for text, _ in line).rstrip()
        assert width(shown) <= cells, shown


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "utf-8"])
@pytest.mark.parametrize("answer", ANSWERS)
def test_text_of_a_list_is_never_acted_on(answer, encoding):
    lines_on, _ = WILD[answer]
    text = on_paper(lines_on, 80, encoding)
    assert all(character.isprintable() or character == "\n" for character in text)
    assert "<U+001B>" in text
    text.encode(encoding)


@pytest.mark.parametrize("answer", ANSWERS)
def test_json_is_json_and_the_same_each_time(answer):
    _, text_of = WILD[answer]
    text = text_of()
    assert text == outputs(evil=True)[answer][1]()
    assert next(iter(json.loads(text))) == "format"
    assert text.encode("utf-8")
