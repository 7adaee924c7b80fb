"""What a check is."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from joinmatrix.assembly.model import Assembly
from joinmatrix.findings import Finding, Kind
from joinmatrix.lists.table import ListKind


@dataclass(frozen=True, slots=True)
class Check:
    """One question to an assembly.

    kind   what its findings are called; named for the fault, never for the remedy
    run    reads the assembly, yields findings; prints, opens and changes nothing
    needs  the list without which it has nothing to look at, if any
    acts   True when it looks at what was done, so that it has no place in a bare plan
    """

    kind: Kind
    run: Callable[[Assembly], Iterator[Finding]]
    needs: ListKind | None = None
    acts: bool = False
