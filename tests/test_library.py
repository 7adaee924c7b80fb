"""`import joinmatrix` as a notebook uses it."""

import subprocess
import sys
from pathlib import Path

import pytest

import joinmatrix
from joinmatrix.errors import CallError
from tests.builders import assembly_of, report_of, table

SAMPLES = Path(__file__).parents[1] / "samples"
FINISHED = SAMPLES / "amphibian-finished"
LINES = table(
    "connections",
    """connection|joint|side|type|from|to|timing
A|fin|both|bolt|P|Q|after mate
B|fin|L|line|R|S|""",
)
RECORD = table(
    "record", "when|stage|connection|side|act\n2031-01-01|mate|||started\n2031-01-02||B|L|made"
)


@pytest.mark.parametrize("name", joinmatrix.__all__)
def test_every_name_is_there(name):
    assert getattr(joinmatrix, name) is not None
    assert name in dir(joinmatrix)


def test_a_name_that_is_none():
    with pytest.raises(AttributeError, match="welds"):
        joinmatrix.welds  # noqa: B018


def test_verify_is_a_function_whatever_is_imported():
    import joinmatrix.verify

    assert callable(joinmatrix.verify)
    assert joinmatrix.verify(FINISHED).verdict == "clear"
    assert joinmatrix.verify([str(FINISHED)]).verdict == "clear"


def test_importing_it_imports_nothing_heavy():
    code = "import joinmatrix, sys; print(*(name for name in sys.modules if '.' not in name))"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(said.stdout.split())
    assert "joinmatrix" in loaded
    assert not loaded & {"pandas", "networkx", "openpyxl", "rich", "typer", "pint", "scipy"}


ANSWERS = [
    pytest.param(lambda lists: joinmatrix.gate(lists, "mate").state, "started", id="gate"),
    pytest.param(lambda lists: len(joinmatrix.next_acts(lists).now), 2, id="next"),
    pytest.param(
        lambda lists: len(joinmatrix.next_acts(lists, side="right", doer="inspector").now), 0,
        id="next-narrowed",
    ),
    pytest.param(lambda lists: len(joinmatrix.windows(lists, "A", "L")), 2, id="windows"),
    pytest.param(lambda lists: joinmatrix.sequence(lists).feasible, True, id="sequence"),
    pytest.param(
        lambda lists: [each.stage for each in joinmatrix.stage_order(lists).stages], ["mate"],
        id="stage-order",
    ),
    pytest.param(lambda lists: joinmatrix.spare_rules(lists), (), id="spare-rules"),
    pytest.param(lambda lists: joinmatrix.sides(lists).open, 1, id="sides"),
    pytest.param(lambda lists: joinmatrix.trace(lists, "P L").open_at, (
        '"A" (fin L) is not placed, not made',), id="trace"),
    pytest.param(lambda lists: joinmatrix.changes(lists, lists).altered, (), id="changes"),
]  # fmt: skip


@pytest.mark.parametrize(("ask", "answer"), ANSWERS)
def test_an_answer_from_a_report_or_an_assembly(ask, answer):
    assert ask(assembly_of(LINES, RECORD)) == answer
    assert ask(report_of(LINES, RECORD)) == answer


def test_an_answer_from_paths():
    assert joinmatrix.gate(FINISHED, "release inspection").go
    assert joinmatrix.gate([FINISHED], "release inspection", as_of="2031-12-31").go


@pytest.mark.parametrize("option", [{"as_of": "2031-01-01"}, {"unit": "7"}])
def test_unit_and_time_are_settled_in_a_report(option):
    with pytest.raises(CallError, match="settled"):
        joinmatrix.merge(report_of(LINES), **option)


@pytest.mark.parametrize(
    ("options", "why"),
    [
        pytest.param({"joint": "fan"}, '"fin"', id="joint"),
        pytest.param({"side": "Q"}, '"L"', id="side"),
        pytest.param({"doer": "painter"}, '"mechanic" or "inspector"', id="doer"),
    ],
)
def test_what_is_not_there_is_refused(options, why):
    with pytest.raises(CallError, match=why):
        joinmatrix.next_acts(assembly_of(LINES), **options)


def test_sign_off_and_recheck(tmp_path):
    statement = tmp_path / "statement.json"
    answer = joinmatrix.sign_off(FINISHED, by="C. Dale", output=statement)
    assert answer.exit_code == 0
    assert joinmatrix.recheck(statement, FINISHED).holds
