"""The whole way of a port: through runs and joints to its ends, and where that way is open."""

from collections import defaultdict
from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from joinmatrix.answers.alike_route import Departure, departures
from joinmatrix.assembly.model import Assembly, Connection, Key, Run
from joinmatrix.assembly.ports import Link, designed_routes, port_graph, port_names, ports
from joinmatrix.assembly.standing import State, standings
from joinmatrix.errors import CallError
from joinmatrix.lists import words
from joinmatrix.names import folded, quoted_list
from joinmatrix.routes.mates import candidate_ports, mates, unknown_port
from joinmatrix.routes.telling import mate_text

if TYPE_CHECKING:
    import networkx as nx

FIXED = "fixed"  # the state of a run: it needs no making
_AFTER = {State.LISTED: "not placed, not made", State.PLACED: "placed, not made"}


class Port(NamedTuple):
    """A port as written, and its side."""

    port: str
    side: str

    def __str__(self) -> str:
        return f"{self.port} {self.side}"


class Step(NamedTuple):
    """One link of the way, in the direction of walking.

    by          "run", or the identifier of the connection
    joint       of a connection; "" for a run
    side        of the connection, or of the port that a run is left from
    start, end  the port the walk comes from and the one it leads to
    state       of the connection; "fixed" for a run
    half        the half that a run lies in, where the list says so
    service     "" when not given
    depth       how many forks lie behind
    first       True where it leads on from a fork, so that a drawing starts a new branch
    again       True when the way comes back to a port that it has been at: a loop
    open        a connection that is not made, though work has begun
    wrong       what the record says of a connection that is mated to another port, else ""
    """

    by: str
    joint: str
    side: str
    start: Port
    end: Port
    state: str
    half: str
    service: str
    depth: int
    first: bool
    again: bool
    open: bool
    wrong: str


@dataclass(frozen=True, slots=True)
class Trace:
    """The route of a port as designed, with the state of each connection on it.

    services    each once, as written, in the order of the way; those of one-ended connections too
    ports       in the order of the way, the asked one first
    links       in the order of the way
    open_at     where the route is open: connections not made, ends that no list gives, wrong mates
    ends        ports at which the way ends
    departures  where the alike routes of other sides go another way
    lines       the way as a drawing, in plain characters
    """

    port: str
    side: str
    services: tuple[str, ...]
    ports: tuple[Port, ...]
    links: tuple[Step, ...]
    open_at: tuple[str, ...]
    ends: tuple[Port, ...]
    departures: tuple[Departure, ...]
    lines: tuple[str, ...]


def trace(assembly: Assembly, port: str, side: str | None = None) -> Trace:
    """The whole route of a port.

    port    its name, with or without its side: "W12", "W12 L"
    side    needed when several sides have a port of that name and the name does not say which
    raises  CallError for an unknown port (with the nearest names), or one that is on several sides
    """
    start = _port(assembly, port, side)
    known = ports(assembly)
    graph = port_graph(assembly, designed_routes(assembly)[known.number(start)])
    way = list(_walk(graph, start))
    visited = dict.fromkeys([start, *(there for _, _, _, there, _, _ in way)])
    steps = tuple(_step(assembly, *each) for each in way)
    ends = tuple(_written(assembly, key) for key in visited if graph.degree(key) < 2)
    loose = _loose_at(assembly, visited)
    return Trace(
        _written(assembly, start).port,
        start.side,
        _services(start, way, loose),
        tuple(_written(assembly, key) for key in visited),
        steps,
        tuple(_open_at(steps, loose)),
        ends,
        departures(assembly, start, [(link, here, there) for link, _, here, there, _, _ in way]),
        tuple(_drawing(_written(assembly, start), steps, ends)),
    )


def _port(assembly: Assembly, name: str, side: str | None) -> Key:
    label = _label(assembly, side) if side else None
    found = candidate_ports(assembly, name, label)
    if label is not None:
        here = [key for key in found if key.side == label]
        if found and not here:
            there = quoted_list((key.side for key in found), "and")
            raise CallError(f'port "{name}" is not on side {label}', f"It is on {there}")
        found = tuple(here)
    if len(found) == 1:
        return found[0]
    problem, remedy = unknown_port(assembly, name, label)
    raise CallError(problem, remedy[:1].upper() + remedy[1:])


def _label(assembly: Assembly, side: str) -> str:
    """The label that a side word of the call means."""
    labels = list(ports(assembly).numbers)
    for label in labels:
        if folded(label) == folded(side):
            return label
    usual = words.side_word(side)
    if usual in labels:
        return usual
    raise CallError(f'no port is on side "{side}"', f"The sides are {quoted_list(labels, 'and')}")


def _written(assembly: Assembly, key: Key) -> Port:
    return Port(port_names(assembly)[key], key.side)


_Walked = tuple[Link, int, Key, Key, bool, bool]


def _walk(graph: "nx.MultiGraph[Key]", start: Key) -> Iterator[_Walked]:
    """Every link once, depth first: link, depth, from, to, starts a branch, comes back."""
    seen = {start}
    used: set[int] = set()
    ahead: list[tuple[Link, int, Key, Key, bool]] = []

    def look_on(port: Key, depth: int) -> None:
        """Put the links that lead on from a port in front, in reading order."""
        onward = [
            (data["link"], there)
            for _, there, data in graph.edges(port, data=True)
            if id(data["link"]) not in used
        ]
        fork = len(onward) > 1
        ahead.extend((link, depth + fork, port, there, fork) for link, there in reversed(onward))

    look_on(start, 0)
    while ahead:
        link, depth, here, there, fork = ahead.pop()
        if id(link) in used:
            continue  # walked from its other end meanwhile, round a loop
        used.add(id(link))
        again = there in seen
        yield link, depth, here, there, fork, again
        if not again:
            seen.add(there)
            look_on(there, depth)


def _step(
    assembly: Assembly, link: Link, depth: int, here: Key, there: Key, first: bool, again: bool
) -> Step:
    start, end = _written(assembly, here), _written(assembly, there)
    if isinstance(link, Run):
        return Step(
            "run", "", here.side, start, end, FIXED, link.half, link.service, depth, first, again,
            False, "",
        )  # fmt: skip
    state = standings(assembly)[link.key].state
    wrong = (each for each in mates(assembly).wrong if each.connection.key == link.key)
    said = next((mate_text(assembly, mate, (link.side,)) for mate in wrong), "")
    return Step(
        link.id, link.joint, link.side, start, end, state.value, "", link.service, depth, first,
        again, state in _AFTER and not assembly.plan_only, said,
    )  # fmt: skip


def _loose_at(assembly: Assembly, visited: Container[Key]) -> list[tuple[Connection, Key]]:
    """The connections that begin at a port of the way, and whose other end no list gives."""
    known = ports(assembly)
    ends = ((connection, known.key(number)) for connection, number in known.loose)
    return [(connection, port) for connection, port in ends if port in visited]


def _services(
    start: Key, way: Iterable[_Walked], loose: Iterable[tuple[Connection, Key]]
) -> tuple[str, ...]:
    """What the way carries, each once and as first written, in the order of the way."""
    at: defaultdict[Key, list[str]] = defaultdict(list)
    for connection, port in loose:
        at[port].append(connection.service)
    said = at.pop(start, [])
    for link, _, _, there, _, _ in way:
        said += (link.service, *at.pop(there, ()))
    services: dict[str, str] = {}
    for service in filter(None, said):
        services.setdefault(folded(service), service)
    return tuple(services.values())


def _open_at(steps: Iterable[Step], loose: Iterable[tuple[Connection, Key]]) -> Iterator[str]:
    for step in steps:
        where = f'"{step.by}" ({step.joint} {step.side})'
        if step.wrong:
            yield f"{step.joint} {step.side}: {step.wrong}"
        elif step.open:
            yield f"{where} is {_AFTER[State(step.state)]}"
    for connection, _ in loose:
        missing = "to" if connection.from_port else "from"
        where = f'"{connection.id}" ({connection.joint} {connection.side})'
        yield f'{where} has no "{missing}" port'


def _drawing(start: Port, steps: Sequence[Step], ends: Sequence[Port]) -> Iterator[str]:
    """One line for each port and each link; a branch is set in, a link not made has a gap."""
    yield f"{start}" + (" (ends here)" if start in ends and not steps else "")
    for step in steps:
        indent = "|  " * (step.depth - step.first)
        mark = "+-" if step.first else "| "
        yield f"{indent}{mark} {_link_text(step)}"
        indent = "|  " * step.depth
        note = " (again: a loop)" if step.again else " (ends here)" if step.end in ends else ""
        yield f"{indent}{step.end}{note}"


def _link_text(step: Step) -> str:
    if step.by == "run" and step.state == FIXED:
        named = f"run, {step.half}" if step.half else "run"
        return f"{named}, {step.service}" if step.service else named
    mark = f"  <- {step.wrong}" if step.wrong else "  <- open" if step.open else ""
    service = f", {step.service}" if step.service else ""
    return f"{step.by}, {step.joint} {step.side}{service}: {step.state}{mark}"
