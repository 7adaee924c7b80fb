import json
from dataclasses import replace
from pathlib import Path

import pytest

from joinmatrix.answers.seals import Change, FileSeal, Seals, TableSeal
from joinmatrix.answers.sign_off import Recheck, SignOff
from joinmatrix.answers.statement import (
    REFUSAL,
    SAFETY,
    Agreed,
    Count,
    Statement,
    Unchecked,
    program_version,
)
from joinmatrix.reports.sign_off_report import (
    recheck_json,
    recheck_lines,
    sign_off_json,
    sign_off_lines,
)
from tests.builders import report_of, table
from tests.reports.answers_scene import on_paper
from tests.reports.scene import wing_report

STATEMENT = Statement(
    unit="7",
    date="2031-04-21T15:00:00+02:00",
    by="C. Dale",
    program="joinmatrix 1.0",
    as_of="",
    counts=(Count("outer wing", "L", 1200, 1200, 1200), Count("tail", "C", 3, 3, 3)),
    agreed=(
        Agreed("outer wing", "AC-103", "", "L", "", "trim tab on the left only", "ENG-3",
               "lists/plan.xlsx", "Agreed", 4),
        Agreed("", "", "ram air", "", "size", "the right one is larger", "",
               "lists/agreed.csv", "", 9),
    ),
    unchecked=(Unchecked(("not-authorised",), "no people list was given"),),
    notes={"lookalike": 12},
    inputs=Seals(
        (FileSeal("lists/wing.xlsx", "a" * 64, 10240), FileSeal("lists/plan.xlsx", "b" * 64, 1)),
        (TableSeal("lists/wing.xlsx", "Joins", "connections", {2: "c" * 16}),),
    ),
)  # fmt: skip


FILES = (Path("unit-7.json"), Path("unit-7.html"))


def flat(text):
    return " ".join(text.split())


@pytest.mark.parametrize("cells", [80, 160])
def test_statement(golden, cells):
    answer = SignOff(wing_report(), STATEMENT)
    text = on_paper(lambda paper: sign_off_lines(answer, paper, written=FILES), cells)
    golden(f"sign-off-{cells}.txt", text)
    assert SAFETY in flat(text)


def test_statement_that_is_not_kept():
    answer = SignOff(wing_report(), replace(STATEMENT, by=""))
    text = on_paper(lambda paper: sign_off_lines(answer, paper))
    assert "nobody is named" in text
    assert "Not kept anywhere" in text
    assert SAFETY in flat(text)


def test_refused(golden):
    answer = SignOff(wing_report(), None, ("3 findings hold",))
    text = on_paper(lambda paper: sign_off_lines(answer, paper))
    golden("sign-off-refused-80.txt", text)
    assert REFUSAL in flat(text)
    assert "This statement" not in text


def test_refused_in_ascii_and_in_brief(golden):
    answer = SignOff(wing_report(), None, ("3 findings hold",))
    text = on_paper(lambda paper: sign_off_lines(answer, paper, brief=True), 60, "ascii")
    golden("sign-off-refused-ascii-60.txt", text)


def test_the_json_of_a_statement_is_its_file():
    whole = json.loads(sign_off_json(SignOff(wing_report(), STATEMENT)))
    assert whole["format"] == "joinmatrix-sign-off/1"
    assert whole["verdict"] == "clear"
    assert list(whole)[-1] == "seal"


def test_the_json_of_a_refusal_is_no_statement():
    whole = json.loads(sign_off_json(SignOff(wing_report(), None, ("3 findings hold",))))
    assert list(whole)[:3] == ["format", "statement", "verdict"]
    assert whole["format"] == "joinmatrix-sign-off/1"
    assert whole["statement"] == REFUSAL
    assert whole["verdict"] == "hold"
    assert whole["refused"] == ["3 findings hold"]
    assert {each["severity"] for each in whole["findings"]} == {"hold"}
    assert "seal" not in whole


def test_a_clear_plan_is_no_clear_verdict():
    lines = table("connections", "connection|joint|side|type\nA|j|both|bolt")
    whole = json.loads(sign_off_json(SignOff(report_of(lines), None, ("this is a plan",))))
    assert (whole["verdict"], whole["plan only"]) == ("hold", True)


CHANGES = (
    *(Change("wing.xlsx", "Joins", row, f"row {row} is not as it was") for row in (5, 6, 7, 12)),
    Change("wing.xlsx", "Joins", 20, "row 20 is new"),
    *(Change("wing.xlsx", "Runs", row, f"what was row {row} is gone") for row in (2, 3)),
    Change("record.csv", "", 0, "is missing; the statement covers it"),
)


def recheck_of(changes=(), answer=(), program=""):
    return Recheck(STATEMENT, wing_report(), tuple(changes), tuple(answer), program)


def test_recheck_that_holds():
    text = on_paper(lambda paper: recheck_lines(recheck_of(), paper))
    assert "the same, to the byte" in text
    assert text.endswith(" ●C HOLDS   the same lists, the same answer\n")
    assert SAFETY in flat(text)


def test_recheck_that_does_not(golden):
    answer = recheck_of(CHANGES, ["tail C: now 3 connections, 2 made, 2 inspected"])
    golden("recheck-80.txt", on_paper(lambda paper: recheck_lines(answer, paper)))


def test_recheck_with_another_program_says_so():
    answer = recheck_of(program="joinmatrix 1.0")
    text = on_paper(lambda paper: recheck_lines(answer, paper))
    assert f"now        {program_version()}" in text


def test_names_are_never_taken_for_places_to_fill_in():
    changes = [Change("{}.xlsx", "{0}", row, f"row {row} is new") for row in (2, 3)]
    text = on_paper(lambda paper: recheck_lines(recheck_of(changes), paper))
    assert "{}.xlsx: {0}: rows 2-3 are new" in text


def test_json_of_a_recheck():
    whole = json.loads(recheck_json(recheck_of(CHANGES, ["tail C: other"])))
    assert whole["format"] == "joinmatrix-recheck/1"
    assert whole["holds"] is False
    assert whole["changes"][0] == {
        "file": "wing.xlsx", "sheet": "Joins", "row": 5, "what": "row 5 is not as it was",
    }  # fmt: skip
    assert whole["answer"] == ["tail C: other"]
    assert whole["statement"]["unit"] == "7"
