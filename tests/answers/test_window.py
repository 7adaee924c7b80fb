"""From which stage to which stage."""

import pytest

from joinmatrix.answers.window import windows
from joinmatrix.errors import CallError
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|place|timing|inspect|closed by\n"
STAGES = (
    "stage|side|after\ngear down||\nwing mate|both|gear down\ntail mate||wing mate\nnose mate||"
)


def ask(rows, name="H", side=None):
    tables = [table("connections", LIST + "\n".join(rows)), table("stages", STAGES)]
    return windows(assembly_of(*tables), name, side)


@pytest.mark.parametrize(
    ("row", "texts"),
    [
        pytest.param("H|fin|L|line||||", ["at any time", "at any time"], id="free"),
        pytest.param(
            "H|fin|L|line||after gear down||tail mate",
            ['after "gear down" is done; before "tail mate" starts'] * 2,
            id="from-to",
        ),
        pytest.param(
            "H|fin|L|line|before wing mate|after wing mate||",
            [
                'before "wing mate" L starts',
                'after "wing mate" L is done',
                'after "wing mate" L is done',
            ],
            id="each-act",
        ),
        pytest.param(
            "H|fin|C|line||after wing mate and gear down||",
            ['after "wing mate" L is done and "wing mate" R is done'] * 2,
            id="the-nearest-only",
        ),
        pytest.param(
            "H|fin|L|line||during nose mate||",
            [
                'after "nose mate" starts; before "nose mate" is done',
                'after "nose mate" starts',
            ],
            id="during",
        ),
        pytest.param(
            "H|fin|L|line||at least 2 h after gear down||",
            [
                'after "gear down" is done; at least 2 h after "gear down" is done',
                'after "gear down" is done',
            ],
            id="time",
        ),
        pytest.param(
            "H|fin|L|line||after K||",
            ['after "gear down" is done; after "K" is made', 'after "gear down" is done'],
            id="through-another",
        ),
        pytest.param(
            "H|fin|L|line||after gear down||gear down",
            ["never: its rules cannot all be met"] * 2,
            id="never",
        ),
    ],
)
def test_windows(row, texts):
    assert [w.text for w in ask([row, "K|fin|L|line||after gear down||"])] == texts


def test_which_connection_is_meant():
    rows = ["H|fin|both|line||||"]
    assert [w.step.side for w in ask(rows)] == ["L", "L", "R", "R"]
    assert [w.step.side for w in ask(rows, "h", "right")] == ["R", "R"]
    assert [w.step.side for w in ask(rows, "H L")] == ["L", "L"]


@pytest.mark.parametrize(
    ("name", "side", "words"),
    [
        pytest.param("H-01", None, "no connection", id="unknown"),
        pytest.param("H", "C", "not on side", id="side"),
    ],
)
def test_a_connection_that_is_none(name, side, words):
    with pytest.raises(CallError, match=words):
        ask(["H|fin|L|line||||"], name, side)
