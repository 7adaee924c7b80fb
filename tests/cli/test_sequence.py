"""`joinmatrix sequence` as it is typed."""

import csv
import json

import pytest

from tests.cli.calling import FINISHED, MID_BUILD, MODULES, ROTOR, run


@pytest.mark.parametrize(
    ("words", "code"),
    [
        pytest.param([FINISHED], 0, id="nothing-left"),
        pytest.param([ROTOR], 0, id="an-order"),
        pytest.param([MODULES, "--spare-rules"], 0, id="a-plan"),
        pytest.param([MID_BUILD], 1, id="no-order"),
        pytest.param([], 2, id="no-paths"),
    ],
)
def test_exit_codes(words, code):
    assert run("sequence", *words).exit_code == code


def test_json_and_csv_have_the_same_acts():
    whole = json.loads(run("sequence", ROTOR, "--format", "json").stdout)
    rows = list(csv.DictReader(run("sequence", ROTOR, "--format", "csv").stdout.splitlines()))
    assert [each["act"] for each in whole["order"]] == [row["act"] for row in rows]


def test_json_without_an_order():
    whole = json.loads(run("sequence", MID_BUILD, "--format", "json").stdout)
    assert whole["feasible"] is False
    assert whole["contradiction"]["connections"] == ["RC-407"]
