"""The two ends of a connection cannot mate: size, end form or key.

A half that was built with another fitting than its partner shows only when both hang in the
slings. A 45 degree nut screws on to a 37 degree cone and leaks. A connector with another key goes
in by force, and then its pins are bent. Sizes in different spellings are compared by published
tables: a dash size is sixteenths of an inch. The same digits in another family are another size:
a size needs its family name. What no table knows passes, with a note: the digits in "AN-8" alone
say neither that it is a -8 nor that it is none. The same words with another number differ.

Example: line H-07 is -6 on the hull and -8 on the wing.

What clears it: find out which half has the wrong part and change it, or correct the list.

What it cannot see: a wrong part that both lists describe as right.
"""

from collections import defaultdict
from collections.abc import Iterator
from functools import partial

from joinmatrix.assembly.model import Assembly
from joinmatrix.assembly.ports import ports
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.reference.match import Match
from joinmatrix.routes import telling
from joinmatrix.routes.mates import mates
from joinmatrix.routes.mating import Ends, doubtful_ends


def mismatched(assembly: Assembly) -> Iterator[Finding]:
    """Ends that cannot mate; ports that are their own mate; a note for ends that no table knows."""
    unsure: defaultdict[tuple[str, str, str, str], list[Ends]] = defaultdict(list)
    holds: list[Finding] = []
    for pair in doubtful_ends(assembly):
        if pair.comparison.match is Match.DIFFERS:
            holds.append(_hold(pair))
        else:
            unsure[pair.connection.joint_key, pair.what, pair.one, pair.other].append(pair)
    holds.extend(_own_mates(assembly))
    yield from telling.one_for_all_sides(holds)
    yield from map(_note, unsure.values())


def _hold(pair: Ends) -> Finding:
    connection, why = pair.connection, pair.comparison.why
    return Finding(
        Kind.MISMATCHED,
        Severity.HOLD,
        f'the two ends of "{connection.id}" cannot mate: {pair.what} "{pair.one}" on the one half '
        f'meets "{pair.other}" on the other' + (f"; {why}" if why else ""),
        "do not force it: find out which half has the wrong part, or correct the list",
        telling.cells((connection,), *pair.columns),
        joint=connection.joint,
        sides=(connection.side,),
        connections=(connection.id,),
    )


def _note(pairs: list[Ends]) -> Finding:
    first = pairs[0]
    connections = [pair.connection for pair in pairs]
    return Finding(
        Kind.MISMATCHED,
        Severity.NOTE,
        f'{first.what} "{first.one}" on the one half and "{first.other}" on the other are taken to '
        f"mate: {first.comparison.why}",
        f"see that they mate, and write the {first.what} so that both halves say the same",
        telling.cells(connections, *first.columns),
        joint=first.connection.joint,
        sides=telling.sides_of(connections),
        connections=telling.names_of(connections),
    )


def _own_mates(assembly: Assembly) -> Iterator[Finding]:
    """Ports that are listed, or recorded, as mated to themselves."""
    known = ports(assembly)
    finding = partial(
        Finding, Kind.MISMATCHED, Severity.HOLD, clears="write the port on the other half"
    )
    for start, end, connection in zip(known.starts, known.ends, known.connections, strict=False):
        if start == end and not connection.disputed & {"from", "to"}:
            yield finding(
                message=f'"{connection.id}" has port "{connection.from_port}" at both its ends; a '
                "port cannot be mated to itself",
                places=telling.cells((connection,), "from", "to"),
                joint=connection.joint,
                sides=(connection.side,),
                connections=(connection.id,),
            )
    for own in mates(assembly).to_itself:
        connection = own.connection
        yield finding(
            message=f'the record has port "{connection.from_port}" of "{connection.id}" mated to '
            "itself",
            places=own.cells + telling.cells((connection,), "from"),
            joint=connection.joint,
            sides=(connection.side,),
            connections=(connection.id,),
        )


CHECK = Check(Kind.MISMATCHED, mismatched)
