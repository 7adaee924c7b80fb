"""A service does not get through: its route is in pieces.

In the lists: one service of one side crosses two joints or more, and the runs between them do not
join it. As made: every connection of a route is recorded as made, and its ports are not all
joined, because one of them was found at a port that leads nowhere.

Example: "brake pressure" crosses the outer wing joint as H-07 and the tip joint as H-11, and no
run leads from port "W1" to port "W8".

What clears it: add the run that is missing, correct the port that breaks the route, or name two
services apart; as made, open the connection and mate it as listed.

What it cannot see: a run that both lists have and the half has not.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly, Connection
from joinmatrix.assembly.ports import ports, written_name
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind
from joinmatrix.names import quoted_list
from joinmatrix.routes import telling
from joinmatrix.routes.as_made import Open, as_made
from joinmatrix.routes.services import Broken, broken_services, loose_ends

_SHOWN = 4  # pieces and ports that a message names before it counts the rest


def broken_route(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each service in pieces in the lists, and for each route open as made."""
    listed = (_listed(assembly, each) for each in broken_services(assembly))
    yield from telling.one_for_all_sides(listed)
    made = (_made(assembly, each) for each in as_made(assembly).opens)
    yield from telling.one_for_all_sides(made)


def _listed(assembly: Assembly, broken: Broken) -> Finding:
    connections = [connection for piece in broken.pieces for connection in piece]
    pieces = _some([_piece(piece) for piece in broken.pieces], " with ")
    ends = loose_ends(assembly, connections)
    key_of = ports(assembly).key
    named = _some([f'"{written_name(assembly, key_of(end))}"' for end in ends], ", ")
    ending = f"; nothing leads on from {named}" if ends else ""
    return Finding(
        Kind.BROKEN_ROUTE,
        Severity.HOLD,
        f'"{broken.service}" is in pieces: no run joins {pieces}{ending}',
        "add the run that joins them, correct the port that breaks it, or name the services apart",
        telling.cells(connections, "service") + telling.run_cells(assembly, ends),
        sides=(broken.side,),
        connections=telling.names_of(connections),
    )


def _piece(piece: tuple[Connection, ...]) -> str:
    joints = dict.fromkeys(connection.joint for connection in piece)
    named = quoted_list(telling.names_of(piece)[:_SHOWN], "and")
    return f"{named} ({', '.join(joints)})"


def _some(texts: list[str], join: str) -> str:
    """The first few texts, and how many more there are."""
    more = len(texts) - _SHOWN
    return join.join(texts[:_SHOWN]) + (f" and {more} more" if more > 0 else "")


def _made(assembly: Assembly, found: Open) -> Finding:
    connections = [mate.connection for mate in found.mates]
    sides = telling.sides_of(connections)
    said = ", ".join(telling.mate_text(assembly, mate, sides) for mate in found.mates)
    return Finding(
        Kind.BROKEN_ROUTE,
        Severity.HOLD,
        f"{telling.route_names(assembly, (found.route,))} is open, though every connection of it "
        f"is made: {said}",
        telling.put_right(found.mates),
        telling.mate_cells(found.mates),
        joint=telling.joint_of(connections),
        sides=sides,
        connections=telling.names_of(connections),
    )


CHECK = Check(Kind.BROKEN_ROUTE, broken_route, needs=ListKind.RUNS)
