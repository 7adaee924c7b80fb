"""Which sides there are, and what the words of a side column mean at a joint."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from joinmatrix.assembly.gathered import Gathered
from joinmatrix.assembly.model import Conflict, Joint
from joinmatrix.lists import words
from joinmatrix.lists.table import ListKind, Source, Table, Trouble
from joinmatrix.names import folded, nearest, quoted_list

LEFT_AND_RIGHT = ("L", "R")
CENTRE = "C"
_NONE = {"", "-", "none", "n/a"}


@dataclass(frozen=True, slots=True)
class Sides:
    """What side words mean, joint by joint.

    alike    folded name of a joint -> the sides that should carry the same connections
    overall  the sides that "both" means where no joint is named: on stages and runs
    """

    alike: Mapping[str, tuple[str, ...]]
    overall: tuple[str, ...]
    _known: dict[tuple[str, str | None], tuple[str, ...] | None] = field(
        default_factory=dict, compare=False
    )

    def labels(self, text: str, joint_key: str | None = None) -> tuple[str, ...] | None:
        """The labels that a side cell means at a joint; () for a blank, None if not understood."""
        key = (text, joint_key)
        if key not in self._known:
            self._known[key] = self._read(text, joint_key)
        return self._known[key]

    def of_joint(self, joint_key: str | None) -> tuple[str, ...]:
        """The alike sides of a joint; without one, of the assembly."""
        if joint_key is None:
            return self.overall
        return self.alike.get(joint_key, LEFT_AND_RIGHT)

    def expected(self, joint_key: str | None = None) -> str:
        """The words a side cell may hold, for a message."""
        alike = self.of_joint(joint_key) or LEFT_AND_RIGHT
        both = ["both"] if len(alike) > 1 else []
        return quoted_list(dict.fromkeys([*alike, CENTRE, *both]))

    def _read(self, text: str, joint_key: str | None) -> tuple[str, ...] | None:
        if not text:
            return ()
        alike = self.of_joint(joint_key)
        found = words.side_labels(text, alike or LEFT_AND_RIGHT)
        if found is None and joint_key is None:
            found = words.side_labels(text, LEFT_AND_RIGHT)
        return found


def read_joints(tables: Sequence[Table], gathered: Gathered) -> tuple[tuple[Joint, ...], Sides]:
    """The joints that the lists name, those of the joints list first, and their sides."""
    declared: dict[str, Joint] = {}
    for table in tables:
        if table.kind is ListKind.JOINTS:
            for index in range(len(table.rows)):
                _declare(Source(table, index), declared, gathered)
    alike = {key: joint.alike_sides for key, joint in declared.items()}
    joints = [*declared.values()]
    for key, row in _named_by_connections(tables).items():
        if key in declared:
            continue
        name = row.text("joint")
        if declared:
            gathered.troubles.append(_unlisted_joint(row, name, declared.values()))
        alike[key] = LEFT_AND_RIGHT
        joints.append(Joint(key, name, LEFT_AND_RIGHT, ()))
    overall = tuple(dict.fromkeys(label for labels in alike.values() for label in labels))
    return tuple(joints), Sides(alike, overall or LEFT_AND_RIGHT)


def _declare(row: Source, declared: dict[str, Joint], gathered: Gathered) -> None:
    name, text = row.text("joint"), row.text("alike sides")
    labels = () if folded(text) in _NONE else _alike_labels(text)
    joint = Joint(folded(name), name, labels, (row,))
    known = declared.get(joint.key)
    if len(labels) == 1 and labels != (CENTRE,):
        found = f'alike sides "{text}" of joint "{name}" is one side, and it takes two to be alike'
        remedy = 'write every side, as "L, R" or "1, 2, 3", or leave it blank for a centre joint'
        gathered.troubles.append(Trouble(row.place("alike sides"), found, remedy, joint=name))
    if known is None:
        declared[joint.key] = joint
    elif known.alike_sides != joint.alike_sides:
        values = tuple(
            (each.text("alike sides"), each.place("alike sides")) for each in (*known.rows, row)
        )
        gathered.conflicts.append(Conflict("", name, (), "alike sides", values))
    else:
        declared[joint.key] = known._replace(rows=(*known.rows, row))


def _unlisted_joint(row: Source, name: str, declared: Iterable[Joint]) -> Trouble:
    known = [joint.name for joint in declared]
    near = nearest(name, known) or known
    return Trouble(
        row.place("joint"),
        f'joint "{name}" is not in the joints list, so left and right are taken as its alike sides',
        f"add it to the joints list, or write {quoted_list(near)}",
        holds=False,
        joint=name,
    )


def _alike_labels(text: str) -> tuple[str, ...]:
    """The labels of "L, R", "LH / RH" or "1; 2; 3"; usual words for left and right are L and R."""
    parts = words.parted_sides(text)
    if len(parts) == 1:
        parts = text.split()
    return tuple(dict.fromkeys(words.side_word(part) or part for part in parts))


def _named_by_connections(tables: Sequence[Table]) -> dict[str, Source]:
    """Every joint that a connections list names, and the first row that does."""
    named: dict[str, Source] = {}
    for table in tables:
        if table.kind is ListKind.CONNECTIONS:
            column = table.column("joint")
            first = {
                text: index
                for index, text in zip(
                    range(len(column) - 1, -1, -1), reversed(column), strict=True
                )
            }
            for text in dict.fromkeys(column):
                if text:
                    named.setdefault(folded(text), Source(table, first[text]))
    return named
