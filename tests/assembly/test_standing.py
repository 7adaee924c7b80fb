"""Where a connection stands, by the latest acts that count."""

import pytest

from joinmatrix.assembly.standing import standings
from tests.builders import assembly_of, table

CONNECTIONS = table("connections", "connection|joint|side|type\nH-1|fin|L|line")


@pytest.mark.parametrize(
    ("acts", "state", "lapsed"),
    [
        pytest.param([], "listed", False, id="nothing"),
        pytest.param(["04 placed"], "placed", False, id="placed"),
        pytest.param(["04 made"], "made", False, id="made-without-placed"),
        pytest.param(["04 made", "05 inspected"], "inspected", False, id="inspected"),
        pytest.param(["05 inspected", "04 made"], "inspected", False, id="rows-in-any-order"),
        pytest.param(["04 made", "05 opened"], "placed", False, id="opened-is-placed"),
        pytest.param(["04 made", "05 inspected", "06 opened"], "placed", True, id="lapsed"),
        pytest.param(
            ["04 made", "05 inspected", "06 opened", "07 made"], "made", True, id="made-again"
        ),
        pytest.param(["04 made", "05 inspected", "06 made"], "made", True, id="made-on-top"),
        pytest.param(
            ["04 made", "05 inspected", "06 opened", "07 made", "08 inspected"],
            "inspected",
            False,
            id="inspected-again",
        ),
        pytest.param(["04 made", "04 inspected", "04 placed"], "inspected", False, id="one-date"),
        pytest.param(["04 inspected"], "listed", False, id="inspected-but-not-made"),
    ],
)
def test_state(acts, state, lapsed):
    rows = "\n".join(f"2031-03-{act[:2]}|H-1|L|{act[3:]}" for act in acts)
    assembly = assembly_of(CONNECTIONS, table("record", f"when|connection|side|act\n{rows}"))
    (standing,) = standings(assembly).values()
    assert standing.state == state
    assert (standing.lapsed is not None) is lapsed


@pytest.mark.parametrize(
    ("acts", "state", "lapsed"),
    [
        pytest.param(["04 made", "inspected"], "inspected", False, id="undated-inspection"),
        pytest.param(["made", "04 inspected"], "inspected", False, id="undated-making"),
        pytest.param(["made", "inspected"], "inspected", False, id="both-undated"),
        pytest.param(
            ["04 made", "05 opened", "06 made", "inspected"], "made", True, id="before-the-opening"
        ),
        pytest.param(["04 made", "opened"], "placed", False, id="undated-opening"),
    ],
)
def test_an_undated_act_follows_the_first_making(acts, state, lapsed):
    rows = "\n".join(
        f"2031-03-{act[:2]}|H-1|L|{act[3:]}" if act[0].isdigit() else f"|H-1|L|{act}"
        for act in acts
    )
    assembly = assembly_of(CONNECTIONS, table("record", f"when|connection|side|act\n{rows}"))
    (standing,) = standings(assembly).values()
    assert standing.state == state
    assert (standing.lapsed is not None) is lapsed


def test_made_twice_without_an_opening_is_remembered():
    rows = "2031-03-04|H-1|L|made\n2031-03-05|H-1|L|made"
    assembly = assembly_of(CONNECTIONS, table("record", f"when|connection|side|act\n{rows}"))
    (standing,) = standings(assembly).values()
    assert [entry.when.text for entry in standing.remade] == ["2031-03-05"]
