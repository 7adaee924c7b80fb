"""Two services, or two routes that should be apart, are joined.

Pressure that meets return, a signal that meets a supply: each connection along the way is made,
and right by its own row. The lists are read as a circuit: two services on one route are joined by
a run or a connection that should not be there. The record is read the same way: a connection
mated to a port of another route joins the two.

Example: a run leads from "W2", where the brake pressure arrives, to "T5", where the return starts.

What clears it: find out where the line really leads and correct the run, the ports or the service;
as made, open the connection and mate it as listed.

What it cannot see: services that carry one name, and what happens inside the units at the ends.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Assembly, Connection, Run
from joinmatrix.assembly.ports import Link
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.names import quoted_list
from joinmatrix.place import Place
from joinmatrix.routes import telling
from joinmatrix.routes.as_made import Short, as_made
from joinmatrix.routes.services import Joined, joined_services


def joined_routes(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each set of services that the lists join, and of routes joined as made."""
    listed = (_listed(each) for each in joined_services(assembly))
    yield from telling.one_for_all_sides(listed)
    made = (_made(assembly, short) for short in as_made(assembly).shorts)
    yield from telling.one_for_all_sides(made)


def _listed(joined: Joined) -> Finding:
    where = "; ".join(dict.fromkeys(_meeting(chain) for chain in joined.chains))
    return Finding(
        Kind.JOINED_ROUTES,
        Severity.HOLD,
        f"{quoted_list(joined.services, 'and')} are joined in the lists: {where}",
        "find out where the line really leads and correct the run, the ports or the service",
        tuple(dict.fromkeys(cell for chain in joined.chains for cell in _cells(chain))),
        joint=telling.joint_of(joined.near),
        sides=joined.sides,
        connections=telling.names_of(joined.near),
    )


def _meeting(chain: tuple[Link, ...]) -> str:
    """Where two services meet, along the shortest way from one to the other."""
    one, *between, other = chain
    if between:
        way = " and ".join(_named(link) for link in between)
        verb = "leads" if len(between) == 1 else "lead"
        return f"{way} {verb} from {_named(one)} to {_named(other)}"
    return f'{_named(one)} ("{one.service}") meets {_named(other)} ("{other.service}")'


def _named(link: Link) -> str:
    if isinstance(link, Run):
        return f'the run "{link.from_port}" to "{link.to_port}"'
    return f'"{link.id}"'


def _cells(chain: tuple[Link, ...]) -> Iterator[Place]:
    """The cells of the runs where the services meet, then those that name the services."""
    for link in chain:
        if isinstance(link, Run):
            yield from (link.row.place("from"), link.row.place("to"))
    for link in chain[1:-1]:
        if isinstance(link, Connection):
            yield from telling.cells((link,), "from", "to")
    for link in (chain[0], chain[-1]):
        if isinstance(link, Connection):
            yield from telling.cells((link,), "service")
        else:
            yield link.row.place("service")


def _made(assembly: Assembly, short: Short) -> Finding:
    connections = [mate.connection for mate in short.mates]
    sides = telling.sides_of(connections)
    routes = telling.route_names(assembly, short.routes)
    said = ", ".join(telling.mate_text(assembly, mate, sides) for mate in short.mates)
    return Finding(
        Kind.JOINED_ROUTES,
        Severity.HOLD,
        f"{routes} are joined as made: {said}",
        telling.put_right(short.mates),
        telling.mate_cells(short.mates),
        joint=telling.joint_of(connections),
        sides=sides,
        connections=telling.names_of(connections),
    )


CHECK = Check(Kind.JOINED_ROUTES, joined_routes)
