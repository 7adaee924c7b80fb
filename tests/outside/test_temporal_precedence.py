"""Published precedence graphs and a critical path, asked of `next` and `sequence`."""

from functools import cache

import pytest

from joinmatrix.answers.next_acts import next_acts
from joinmatrix.answers.sequence import sequence
from tests.builders import assembly_of, table

# source: Mertens (1967), Bowman (1960, p. 385) and Jackson (1956), as given in Scholl, "Data of
# Assembly Line Balancing Problems", TH Darmstadt, Schriften 16/93 (1993): times and arcs. Longest
# chains, feasible sets and linear extensions are worked out from them, one set at a time.
GRAPHS = {
    "mertens": ([1, 5, 4, 3, 5, 6, 5], "1-2 1-4 2-3 2-5 4-7 5-6", 17, 22, 45),
    "bowman": ([11, 17, 9, 5, 8, 12, 10, 3], "1-2 2-3 2-4 3-5 3-6 4-6 5-7 6-8", 55, 16, 16),
    "jackson": (
        [6, 2, 5, 7, 1, 2, 3, 6, 5, 5, 4],
        "1-2 1-3 1-4 1-5 2-6 3-7 4-7 5-7 6-8 7-9 8-10 9-11 10-11",
        25, 52, 756,
    ),
}  # fmt: skip


def before(arcs, task):
    return [
        int(one) for one, other in (arc.split("-") for arc in arcs.split()) if int(other) == task
    ]


def lists(rules):
    """Connections 1, 2, ... with a timing each."""
    rows = "\n".join(f"T{task}|joint|C|task|{rule}" for task, rule in rules.items())
    return table("connections", "connection|joint|side|type|timing\n" + rows)


@pytest.mark.parametrize("name", GRAPHS)
def test_the_sets_that_can_be_done_and_the_orders_among_them(name):
    times, arcs, _, sets, orders = GRAPHS[name]
    tasks = range(1, len(times) + 1)
    rules = {
        task: "; ".join(f"after T{each}" for each in before(arcs, task)) or "any time"
        for task in tasks
    }

    @cache
    def orders_from(done):
        """How many ways lead on from a set of tasks that are done."""
        if len(done) == len(times):
            return 1
        record = "when|act|connection|side\n" + "\n".join(
            f"2026-03-01|made|T{task}|C" for task in sorted(done)
        )
        tables = [lists(rules)] + ([table("record", record)] if done else [])
        offered = [
            int(each.step.connection[1:])
            for each in next_acts(assembly_of(*tables)).now
            if each.step.act == "made"
        ]
        return sum(orders_from(done | {task}) for task in offered)

    assert orders_from(frozenset()) == orders
    assert orders_from.cache_info().currsize == sets


@pytest.mark.parametrize("name", GRAPHS)
def test_the_longest_chain_is_the_earliest_end(name):
    times, arcs, chain, _, _ = GRAPHS[name]
    rules = {
        task: "; ".join(
            f"at least {time} min after {each}"
            for each in [f"T{one}" for one in before(arcs, task)] or ["begin"]
        )
        for task, time in enumerate(times, 1)
    }
    order = sequence(assembly_of(lists(rules), table("stages", "stage|side\nbegin|"))).order
    assert max(timed.earliest for timed in order) == chain
    made = [timed for timed in order if timed.step.act == "made"]
    turn = {int(timed.step.connection[1:]): number for number, timed in enumerate(made)}
    assert all(turn[one] < turn[task] for task in turn for one in before(arcs, task))


# source: lecture example "Example 1: Draw the network for the events in Table 1",
# studylib.net/doc/8378728: duration, predecessors, earliest finish, latest finish.
ACTIVITIES = {
    "A": (6, "", 6, 6),
    "B": (2, "A", 8, 8),
    "C": (2, "A", 8, 9),
    "D": (3, "B", 11, 11),
    "E": (4, "DF", 15, 15),
    "F": (2, "C", 10, 11),
    "G": (1, "E", 16, 16),
}


def test_the_critical_path():
    rules = {
        name: "; ".join(
            f"at least {hours} h after {each}" for each in [f"T{p}" for p in after] or ["begin"]
        )
        for name, (hours, after, _, _) in ACTIVITIES.items()
    }
    order = sequence(assembly_of(lists(rules), table("stages", "stage|side\nbegin|"))).order
    found = {
        timed.step.connection[1:]: (timed.earliest / 60, timed.latest / 60)
        for timed in order
        if timed.step.act == "made"
    }
    assert found == {name: (least, most) for name, (_, _, least, most) in ACTIVITIES.items()}
    critical = "".join(sorted(name for name, (least, most) in found.items() if least == most))
    assert critical == "ABDEG"
