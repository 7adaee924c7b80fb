"""The order of acts when some have a time and others only a date."""

import itertools

import pytest

from joinmatrix.assembly.standing import standings
from tests.builders import assembly_of, table

CONNECTIONS = table("connections", "connection|joint|side|type\nH-1|fin|L|line")


def standing(*acts):
    """Acts as "2026-03-04 10:30 made", with " #3" behind for a running number."""
    rows = []
    for act in acts:
        text, _, seq = act.partition(" #")
        when, _, word = text.rpartition(" ")
        rows.append(f"{when.replace(' ', 'T')}|{seq}|H-1|L|{word}")
    record = table("record", "when|seq|connection|side|act\n" + "\n".join(rows))
    (found,) = standings(assembly_of(CONNECTIONS, record)).values()
    return found


@pytest.mark.parametrize(
    ("acts", "state"),
    [
        pytest.param(["03-04 10:30 made", "03-04 inspected"], "inspected", id="timed-making"),
        pytest.param(["03-04 made", "03-04 09:00 inspected"], "inspected", id="timed-inspection"),
        pytest.param(
            ["03-04 08:00 made", "03-04 10:00 opened", "03-04 12:00 made", "03-04 inspected"],
            "inspected",
            id="inspected-some-time-on-a-busy-day",
        ),
        pytest.param(
            ["03-02 made", "03-03 inspected", "03-04 opened", "03-04 made"], "made",
            id="opened-and-made-again-on-one-date",
        ),
        pytest.param(
            ["03-02 made", "03-03 inspected", "03-04 opened", "03-04 made", "03-04 inspected"],
            "inspected", id="and-inspected-again",
        ),
        pytest.param(
            ["03-02 made", "03-04 10:00 opened", "03-04 made"], "made", id="timed-opening",
        ),
        pytest.param(
            ["03-02 made", "03-04 opened", "03-04 12:00 made"], "made", id="timed-new-making",
        ),
        pytest.param(["03-04 made", "03-04 opened"], "placed", id="made-and-opened"),
        pytest.param(["03-04 12:00 made", "03-04 opened"], "placed", id="made-then-opened"),
        pytest.param(["03-03 made", "03-04 inspected", "03-04 opened"], "placed", id="then-opened"),
        pytest.param(
            ["03-04 made #1", "03-04 inspected #2", "03-04 opened #3"], "placed", id="numbers",
        ),
        pytest.param(
            ["03-04 opened #1", "03-04 12:00 made #2"], "made", id="numbers-beside-a-time",
        ),
        pytest.param(
            ["03-04 10:00 made", "03-04 09:00 inspected"], "made", id="times-decide",
        ),
    ],
)  # fmt: skip
def test_state_whatever_the_order_of_the_rows(acts, state):
    acts = [f"2026-{act}" for act in acts]
    for rows in itertools.permutations(acts):
        assert standing(*rows).state == state


def test_inspected_on_the_day_of_a_timed_making_is_not_lapsed():
    found = standing("2026-03-04 10:30 made", "2026-03-04 inspected")
    assert found.lapsed is None


def test_opened_and_made_again_on_one_date_lapses_the_inspection():
    found = standing(
        "2026-03-02 made", "2026-03-03 inspected", "2026-03-04 opened", "2026-03-04 made"
    )
    assert found.lapsed is not None
    assert found.remade == ()
