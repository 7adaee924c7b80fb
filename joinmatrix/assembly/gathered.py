"""What comes up while the lists are merged and is no fact of the assembly itself."""

from dataclasses import dataclass, field

from joinmatrix.assembly.model import Conflict, Repeat
from joinmatrix.lists.table import ListKind, Source, Trouble
from joinmatrix.names import folded
from joinmatrix.place import Place

# What the rows of a list are about, and the column that has its name.
_NAMES = {
    ListKind.CONNECTIONS: ("connection", "connection"),
    ListKind.STAGES: ("stage", "stage"),
    ListKind.TEMPORARY: ("item", "temporary item"),
    ListKind.PEOPLE: ("person", "person"),
}


@dataclass(slots=True)
class Gathered:
    """Filled by the modules beside this one, frozen into the assembly at the end.

    aside  rows that could not be used, with the reason
    notes  how something was read
    """

    troubles: list[Trouble] = field(default_factory=list)
    conflicts: list[Conflict] = field(default_factory=list)
    repeats: list[Repeat] = field(default_factory=list)
    aside: list[tuple[Source, str]] = field(default_factory=list)
    notes: list[tuple[Place, str]] = field(default_factory=list)

    def unsure(self) -> dict[str, dict[str, str]]:
        """The names in the rows that were set aside, by what they are names of."""
        found: dict[str, dict[str, str]] = {}
        for row, _ in self.aside:
            subject, column = _NAMES.get(row.table.kind, ("", ""))
            name = row.text(column)
            if name:
                found.setdefault(subject, {})[folded(name)] = name
        return found

    def refuse(self, row: Source, column: str, found: str, remedy: str) -> None:
        """Set a row aside because of one of its cells, and say so as a trouble."""
        self.troubles.append(Trouble(row.place(column), found, remedy))
        self.aside.append((row, found))
