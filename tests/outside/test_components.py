"""Routes, opens, shorts and swaps against scipy's connected components.

The idea is that of the electrical test of bare boards (IPC-9252): the connected groups that are
measured must be the groups of the net list. A net in two groups is an open, a group with two nets
is a short.
"""

import random
from collections import defaultdict
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from joinmatrix.assembly.model import Assembly, Key
from joinmatrix.assembly.ports import components, designed_routes, ports
from joinmatrix.checks.broken_route import broken_route
from joinmatrix.checks.crossed import crossed
from joinmatrix.checks.joined_routes import joined_routes
from joinmatrix.routes.as_made import as_made, as_made_links
from joinmatrix.routes.mates import mates
from tests.builders import assembly_of, table

SEEDS = st.integers(0, 2**32)
Edges = list[tuple[str, str]]


def groups(edges: Edges, nodes: list[str]) -> dict[str, int]:
    """The component of every node, by scipy."""
    number = {node: position for position, node in enumerate(nodes)}
    one = np.array([number[a] for a, _ in edges], dtype=int)
    other = np.array([number[b] for _, b in edges], dtype=int)
    graph = coo_array((np.ones(len(edges)), (one, other)), shape=(len(nodes), len(nodes)))
    _, labels = connected_components(graph, directed=False)
    return {node: int(labels[number[node]]) for node in nodes}


def same_partition(ours: dict[str, int], theirs: dict[str, int]) -> bool:
    """Whether two labellings put the same nodes together."""
    pairs = {(ours[node], theirs[node]) for node in theirs}
    return len(pairs) == len(set(ours.values())) == len(set(theirs.values()))


class Case(NamedTuple):
    """A random assembly on one side, and what it was made from.

    lines   the connections: name -> from and to
    runs    pairs of ports; spare ones lead to ports that no connection takes
    made    name -> the port that was found at the other end; not made when missing
    """

    lines: dict[str, tuple[str, str]]
    runs: Edges
    made: dict[str, str]

    @property
    def ports(self) -> list[str]:
        return list(dict.fromkeys([*sum(self.lines.values(), ()), *sum(self.runs, ())]))

    @property
    def designed(self) -> Edges:
        return [*self.lines.values(), *self.runs]

    @property
    def as_made(self) -> Edges:
        return [(self.lines[name][0], port) for name, port in self.made.items()] + self.runs

    def assembly(self) -> Assembly:
        connections = "\n".join(f"{name}|j|C|line|{a}|{b}" for name, (a, b) in self.lines.items())
        runs = "\n".join(f"{a}|{b}|C" for a, b in self.runs)
        record = "\n".join(f"{name}|C|made|2026-03-04|{to}" for name, to in self.made.items())
        return assembly_of(
            table("connections", "connection|joint|side|type|from|to\n" + connections),
            table("runs", "from|to|side\n" + runs),
            table("record", "connection|side|act|when|mated to\n" + record),
        )


def random_case(seed: int, most: int = 450) -> tuple[Case, random.Random]:
    """Up to 450 connections, as many runs, and spare ports: up to 2,000 ports; all as listed."""
    pick = random.Random(seed)
    count = pick.randint(2, most)
    lines = {f"c{n}": (f"a{n}", f"b{n}") for n in range(count)}
    ends = [f"{half}{n}" for n in range(count) for half in "ab"]
    runs = [tuple(pick.sample(ends, 2)) for _ in range(pick.randint(1, count))]
    runs += [(pick.choice(ends), f"spare{n}") for n in range(pick.randint(1, 2 * count))]
    made = {name: to for name, (_, to) in lines.items() if pick.random() < 0.9}
    return Case(lines, runs, made), pick


def labelled(assembly: Assembly, labels: list[int]) -> dict[str, int]:
    return {key.name: labels[number] for number, key in enumerate(ports(assembly).every_key())}


@given(SEEDS)
@settings(max_examples=15, deadline=None)
def test_routes_as_designed_and_as_made(seed):
    case, pick = random_case(seed)
    for name in pick.sample(sorted(case.made), len(case.made) // 4):
        case.made[name] = pick.choice([port for port in case.ports if port[0] != "a"])
    assembly = case.assembly()
    designed = labelled(assembly, designed_routes(assembly))
    assert same_partition(designed, groups(case.designed, case.ports))
    links = as_made_links(assembly)
    made = components(len(ports(assembly).names), *zip(*links, strict=True))
    assert same_partition(labelled(assembly, made), groups(case.as_made, case.ports))


@given(SEEDS)
@settings(max_examples=25, deadline=None)
def test_opens_and_shorts(seed):
    """Connections found at ports that nothing else takes: neither a swap nor a port taken twice."""
    case, pick = random_case(seed)
    free = [port for port in case.ports if port.startswith("spare")]
    free += [to for name, (_, to) in case.lines.items() if name not in case.made]
    pick.shuffle(free)
    strays = pick.sample(sorted(case.made), min(len(case.made), len(free), pick.randint(1, 8)))
    for name, port in zip(strays, free, strict=False):
        case.made[name] = port
    assembly = case.assembly()
    designed, made = groups(case.designed, case.ports), groups(case.as_made, case.ports)

    routes_in, pieces_of = defaultdict(set), defaultdict(set)
    for port in case.ports:
        routes_in[made[port]].add(designed[port])
        pieces_of[designed[port]].add(made[port])
    shorted = {frozenset(routes) for routes in routes_in.values() if len(routes) > 1}
    in_short = {name for name in strays if len(routes_in[made[case.lines[name][0]]]) > 1}
    unfinished = {designed[a] for name, (a, _) in case.lines.items() if name not in case.made}
    opened = {
        route
        for route, pieces in pieces_of.items()
        if len(pieces) > 1 and route not in unfinished
        if not any(designed[case.lines[name][0]] == route for name in in_short)
    }

    found = as_made(assembly)
    number = {key.name: position for position, key in enumerate(ports(assembly).every_key())}
    ours = {designed_routes(assembly)[number[port]]: designed[port] for port in case.ports}
    assert {frozenset(ours[route] for route in each.routes) for each in found.shorts} == shorted
    assert {ours[each.route] for each in found.opens} == opened
    assert (found.swaps, found.clashes) == ((), ())
    assert len(list(joined_routes(assembly))) == sum(
        len(routes) > 1 for routes in routes_in.values()
    )
    assert len(list(broken_route(assembly))) == len(opened)


@given(SEEDS)
@settings(max_examples=25, deadline=None)
def test_swaps_are_the_cycles_of_the_permutation(seed):
    case, pick = random_case(seed)
    names = sorted(case.made)
    moved = pick.sample(names, pick.randint(2, len(names))) if len(names) > 1 else names
    shuffled = moved[:]
    pick.shuffle(shuffled)
    for name, other in zip(moved, shuffled, strict=True):
        case.made[name] = case.lines[other][1]
    assembly = case.assembly()
    cycles = defaultdict(set)
    for name, label in groups(list(zip(moved, shuffled, strict=True)), moved).items():
        cycles[label].add(name)
    expected = sorted(sorted(cycle) for cycle in cycles.values() if len(cycle) > 1)
    assert sorted(sorted(each.connections) for each in crossed(assembly)) == expected
    assert list(joined_routes(assembly)) == []
    assert list(broken_route(assembly)) == []


@given(SEEDS)
@settings(max_examples=25, deadline=None)
def test_every_wrong_mate_is_told_and_every_difference_has_one(seed):
    """Mates anywhere at all: swaps, ports taken twice, chains, opens and shorts in one."""
    case, pick = random_case(seed, most=40)
    for name in pick.sample(sorted(case.made), pick.randint(0, len(case.made))):
        case.made[name] = pick.choice(case.ports)
    assembly = case.assembly()
    found = as_made(assembly)
    told = [mate for swap in found.swaps for mate in swap.mates]
    swapped = {mate.connection.key for mate in told}
    told += [
        mate
        for clash in found.clashes
        for mate in clash.mates
        if mate.connection.key not in swapped
    ]
    told += [mate for each in (*found.shorts, *found.opens) for mate in each.mates]
    told += found.strays
    wrong = mates(assembly).wrong
    assert sorted(mate.connection.key for mate in told) == sorted(m.connection.key for m in wrong)

    number = {key.name: position for position, key in enumerate(ports(assembly).every_key())}
    links = as_made_links(assembly)
    made = components(len(number), *zip(*links, strict=True))
    routes_in = defaultdict(set)
    for position, route in enumerate(designed_routes(assembly)):
        routes_in[made[position]].add(route)
    mixed = {piece for piece, routes in routes_in.items() if len(routes) > 1}
    touched = {
        made[ports(assembly).number(port)] for mate in wrong for port in (mate.start, mate.end)
    }
    assert mixed <= touched


@given(SEEDS)
@settings(max_examples=25, deadline=None)
def test_services_in_the_lists(seed):
    """Lines of random services through three joints; some of the runs lead to the wrong line."""
    pick = random.Random(seed)
    count = pick.randint(1, 60)
    lines = [
        (f"c{j}.{n}", f"j{j}", n, f"a{j}.{n}", f"b{j}.{n}") for j in range(3) for n in range(count)
    ]
    runs = []
    for joint in range(2):
        for line in range(count):
            chance = pick.random()
            if chance < 0.9:
                runs.append((f"b{joint}.{line}", f"a{joint + 1}.{line}"))
            elif chance < 0.95:
                runs.append((f"b{joint}.{line}", f"a{joint + 1}.{pick.randrange(count)}"))
    assembly = assembly_of(
        table(
            "connections",
            "connection|joint|side|type|service|from|to\n"
            + "\n".join(f"{c}|{j}|C|line|service {n}|{a}|{b}" for c, j, n, a, b in lines),
        ),
        table("runs", "from|to|side\n" + "\n".join(f"{a}|{b}|C" for a, b in runs or [("x", "y")])),
    )
    edges = [(a, b) for *_, a, b in lines] + runs
    labels = groups(edges, list(dict.fromkeys(sum(edges, ()))))
    services, pieces = defaultdict(set), defaultdict(set)
    for _, _, line, a, _ in lines:
        services[labels[a]].add(line)
        pieces[line].add(labels[a])
    mixed = {line for lines_in in services.values() if len(lines_in) > 1 for line in lines_in}
    broken = {line for line, parts in pieces.items() if len(parts) > 1} - mixed
    joined = {name for each in joined_routes(assembly) for name in each.connections}
    assert {int(name.split(".")[1]) for name in joined} <= mixed
    assert bool(joined) is bool(mixed)
    assert {each.message.split('"')[1] for each in broken_route(assembly)} == {
        f"service {line}" for line in broken
    }


@pytest.mark.parametrize(
    ("measured", "shorted", "opened", "swapped"),
    [
        # The constructed example of four boards: nets {A1 B1 C1}, {A2 B2}, {A3 B3}.
        pytest.param({}, 0, 0, 0, id="good"),
        pytest.param({"n2": "B3", "n3": "B2"}, 0, 0, 1, id="two-nets-crossed"),
        pytest.param({"n1": "spare"}, 1, 0, 0, id="one-net-on-a-spare"),
    ],
)
def test_a_board_of_three_nets(measured, shorted, opened, swapped):
    lines = {"n1": ("A1", "B1"), "n2": ("A2", "B2"), "n3": ("A3", "B3")}
    made = {name: measured.get(name, to) for name, (_, to) in lines.items()}
    found = as_made(Case(lines, [("B1", "C1"), ("spare", "D")], made).assembly())
    assert (len(found.shorts), len(found.opens), len(found.swaps)) == (shorted, opened, swapped)


def test_keys_are_by_side():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type|from|to\nH1|j|both|x|A|b")
    )
    assert list(ports(assembly).every_key()) == [
        Key("a", "L"),
        Key("b", "L"),
        Key("a", "R"),
        Key("b", "R"),
    ]
    assert designed_routes(assembly) == [0, 0, 2, 2]
