"""Alike sides differ, and nobody has agreed that they may.

Left and right are seldom quite alike, but every difference should be a decision that somebody
made. A line that one side lacks, or a bolt with other limits, is either meant or forgotten, and at
the joint both look the same.

A connection is compared with its counterpart on the other sides: the one with the same
identifier, or with the same identifier after the words for the sides are swapped; where the
identifiers have nothing in common, the one with the part number of the opposite hand, at the same
place in the routes, or most alike. Before texts are compared, side words in them are swapped too:
"after gear down L" on the left is alike to "after gear down R" on the right. Sizes, ends and keys
are alike in any spelling that the published tables know to be equal: -8 and 1/2 in, "pin" and
"pins". A difference that the differences list names, with a reason, is agreed. With more than two
alike sides the odd one out is named.

An agreement without its reason, or without the approval that its list asks for, covers nothing:
the difference that it names stays open, and the cells to fill in are shown with it.

An agreement that matches no difference, or covers several, is a note. So are readings of
counterparts that are within their limits and yet far apart: by more than half the width of the
limits or, without two limits, by more than a quarter of the larger reading.

Example: H-07 is on L and has no counterpart on R. Or: the torque of H-08 is 135..150 in-lbf on L
and 100..120 in-lbf on R.

What clears it: correct the list that is wrong, or write the difference in the differences list
with a reason and, where that list asks for it, who approved it.

What it cannot see: a mistake that is the same on every side, and anything on the centre line.
Ports, parts, remarks and ticks are not compared here; `sides` shows them.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import groupby

from joinmatrix.assembly.model import Assembly, Difference
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import Source
from joinmatrix.names import folded, quoted_list
from joinmatrix.pairing.audit import (
    EXISTENCE,
    Audit,
    Item,
    Stale,
    Wide,
    agreement_cell,
    agreement_words,
    audit,
    lacking,
    plain_column,
)
from joinmatrix.pairing.compare import Said
from joinmatrix.pairing.pairs import Group, How
from joinmatrix.pairing.tokens import side_words
from joinmatrix.place import Place
from joinmatrix.readings.apart import Apart, far_apart
from joinmatrix.readings.limits import read_limits
from joinmatrix.readings.units import unit_key
from joinmatrix.routes.mating import cannot_mate
from joinmatrix.routes.services import told_services
from joinmatrix.timing.rules import Unread
from joinmatrix.timing.stages import names_of


def asymmetric(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each group of counterparts that differs, and for each idle agreement."""
    done = audited(assembly)
    said: set[Source] = set()  # the rows of agreements that a finding is about
    # What cannot mate, or meets another service, differs from its counterpart, too: told once.
    told = cannot_mate(assembly) | told_services(assembly) if done.items else frozenset()
    for found in done.items.values():
        items = [
            item
            for item in found
            if item.open
            and not any((member.key, item.column) in told for member in item.group.members)
            and not (item.column == EXISTENCE and _set_aside(assembly, item.group))
        ]
        if items:
            yield _of_group(items[0].group, items)
            said.update(agreement.row for item in items for agreement in item.unsigned)
    yield from map(_stale, done.stale)
    said.update(stale.agreement.row for stale in done.stale)
    for row, agreement in {each.row: each for each in assembly.differences}.items():
        if row not in said and lacking([agreement]):
            yield _incomplete(agreement)
    yield from map(_wide, done.wide)
    counterparts = (group.members for group in done.groups if len(group.members) > 1)
    yield from map(_far_apart, far_apart(assembly, counterparts))


def _set_aside(assembly: Assembly, group: Group) -> bool:
    """Whether a list has the missing counterpart in a row that could not be used."""
    unsure = assembly.unsure.get("connection", {})
    if not unsure:
        return False
    words = side_words(group.alike)
    names = {member.key.name for member in group.members}
    marked = {words.marked([member.key.name], member.side)[0] for member in group.members}
    return any(
        name in names or words.marked([name], side)[0] in marked
        for name in unsure
        for side in group.missing
    )


def audited(assembly: Assembly) -> Audit:
    """The audit of the alike sides, with the rules read as the timing reads them."""
    return audit(assembly, _reads_of(assembly))


@lru_cache(maxsize=8)
def _reads_of(assembly: Assembly) -> "_ReadAs":
    return _ReadAs(assembly)


class _ReadAs:
    """What the texts of rules and limits say."""

    def __init__(self, assembly: Assembly) -> None:
        self._assembly = assembly

    def __call__(self, column: str, text: str) -> tuple[Said, ...] | None:
        """What a text says; None when it cannot be read."""
        return _limits(text) if column == "limits" else self._rule(column, text)

    def _rule(self, column: str, text: str) -> tuple[Said, ...] | None:
        reader = names_of(self._assembly).reader
        if column == "closed by":
            names = reader.name_list(text)
            if isinstance(names, Unread):
                return None
            return tuple(Said(column, name.key, name.sides) for name in names)
        clauses = reader.rule(text)
        if isinstance(clauses, Unread):
            return None
        return tuple(
            Said((clause.word, clause.minutes), name.key, name.sides)
            for clause in clauses
            for name in clause.names
        )


def _limits(text: str) -> tuple[Said, ...] | None:
    read = read_limits(text)
    if read.unclear:
        return None
    return tuple(
        Said(
            (
                limit.key, unit_key(limit.unit), limit.low, limit.high,
                limit.above_low, limit.below_high,
            ),
            folded(limit.wanted),
        )
        for limit in read.limits
    )  # fmt: skip


def _of_group(group: Group, items: Sequence[Item]) -> Finding:
    """All in which counterparts differ; first, on which sides there is none."""
    missing = [item for item in items if item.column == EXISTENCE]
    differing = [item for item in items if item.column != EXISTENCE]
    ids = dict.fromkeys(member.id for member in group.members)
    places = dict.fromkeys(place for item in items for place in item.places)
    unsigned = dict.fromkeys(cell for item in items for cell in _cells_of(item.unsigned))
    said = [_missing(group, missing)] if missing else []
    if differing:
        said.append(_differs(group, differing, again=bool(missing)))
    return Finding(
        Kind.ASYMMETRIC,
        Severity.HOLD,
        "; ".join(said),
        f"{_what_to_do(group, items)}{_sign(items)}",
        tuple(dict.fromkeys((*places, *unsigned))),
        joint=group.joint,
        sides=group.sides,
        connections=tuple(ids),
    )


def _what_to_do(group: Group, items: Sequence[Item]) -> str:
    columns = {item.column for item in items}
    if EXISTENCE not in columns:
        return "correct the list that is wrong, or write it in the differences list with a reason"
    where, without = _and(group.sides), _and(group.missing)
    if columns == {EXISTENCE}:
        return (
            f"list it on {without}, strike it on {where}, or write it in the differences list with "
            "a reason"
        )
    return (
        f"list it on {without} or strike it on {where}, and correct the list that is wrong where "
        "it differs, or write each of the two in the differences list with a reason"
    )


def _missing(group: Group, items: Sequence[Item]) -> str:
    first = group.members[0]
    said = ", ".join(filter(None, (first.type, first.service)))
    has = "has" if len(group.missing) == 1 else "have"
    return (
        f"{_ids(group)} ({said}) {'are' if _many(group) else 'is'} on {_and(group.sides)}, and "
        f"{_and(group.missing)} {has} no counterpart{_not_covered(items)}"
    )


def _differs(group: Group, items: Sequence[Item], *, again: bool) -> str:
    """In which columns; again: after what has named the connections and their sides already."""
    if again:
        differ = "they differ" if _many(group) else "it differs"
    else:
        named = _ids(group)
        differ = f"{named} differ" if _many(group) else f"{named} on {_and(group.sides)} differs"
    said = "; ".join(_column(same) for same in _by_column(items))
    paired = "" if group.how in (How.SAME_ID, How.SWAPPED_ID) else f" (paired because {group.why})"
    return f"{differ}: {said}{paired}"


def _many(group: Group) -> bool:
    """Whether the counterparts have more than one name."""
    return len({member.id for member in group.members}) > 1


def _by_column(items: Iterable[Item]) -> Iterator[list[Item]]:
    """The items as a reader counts them: a size that differs the same at both ends is one."""
    for _, same in groupby(items, key=lambda item: (plain_column(item.column), item.values)):
        yield list(same)


def _column(items: Sequence[Item]) -> str:
    """A column and what each side has in it: `timing is "after A" on L and "after B" on R`."""
    item = items[0]
    name = plain_column(item.column) if len(items) > 1 else item.column
    if len({text for _, text in item.values}) == 1:
        text = quoted_list((item.values[0][1],))
        return f"{name} names the same side on {_and(item.odd)}: {text}{_not_covered(items)}"
    sides_of: dict[str, list[str]] = {}
    for side, text in item.values:
        sides_of.setdefault(text, []).append(side)
    said = [
        f"{quoted_list((text,)) if text else 'blank'} on {_and(sides)}"
        for text, sides in sides_of.items()
    ]
    odd = ""
    if len(item.group.alike) > 2 and len(item.odd) < len(item.values):
        odd = f" ({_and(item.odd)} is the odd one out)"
    verb = "are" if name == "limits" else "is"
    return f"{name} {verb} {_and(said)}{odd}{_not_covered(items)}"


def _not_covered(items: Iterable[Item]) -> str:
    """Why the agreements that name the difference do not cover it."""
    unsigned = [agreement for item in items for agreement in item.unsigned]
    if not unsigned:
        return ""
    return f" (the differences list names it, but gives no {' and no '.join(lacking(unsigned))})"


def _sign(items: Iterable[Item]) -> str:
    unsigned = any(item.unsigned for item in items)
    return "; an agreed difference needs its reason and its approval" if unsigned else ""


def _cells_of(agreements: Iterable[Difference]) -> tuple[Place, ...]:
    """The cells to fill in of agreements that lack something."""
    return tuple(
        dict.fromkeys(
            each.row.place(column) for each in agreements for column in lacking([each]).values()
        )
    )


def _stale(stale: Stale) -> Finding:
    return _of_agreement(
        stale.agreement,
        stale.text,
        "strike it from the differences list, or correct what it names",
    )


def _incomplete(agreement: Difference) -> Finding:
    """What it names is no difference to be agreed yet: another finding is to be settled first."""
    lacks = lacking([agreement])
    return replace(
        _of_agreement(
            agreement,
            f"{agreement_words(agreement)} gives no {' and no '.join(lacks)}",
            f"write its {' and its '.join(lacks)}, or strike it from the differences list",
        ),
        places=_cells_of([agreement]),
    )


def _wide(wide: Wide) -> Finding:
    return _of_agreement(
        wide.agreement,
        f"{agreement_words(wide.agreement)} covers {wide.covers}",
        "see that each of them is meant; where one is not, write an agreement for each instead",
    )


def _of_agreement(agreement: Difference, message: str, clears: str) -> Finding:
    return Finding(
        Kind.ASYMMETRIC,
        Severity.NOTE,
        message,
        clears,
        (agreement_cell(agreement),),
        joint=agreement.joint,
        sides=(agreement.side,) if agreement.side else (),
        connections=(agreement.connection,) if agreement.connection else (),
    )


def _far_apart(apart: Apart) -> Finding:
    """Each reading is within its limits, but one side is not like the other."""
    pair = sorted((apart.one, apart.other), key=lambda each: each.measurement.place)
    members = [apart.one.connection, apart.other.connection]
    what = apart.measure or "a reading"
    said = " and ".join(
        f"{each.said.number.text} {each.said.unit}".strip() + f" on {each.connection.side}"
        for each in (apart.one, apart.other)
    )
    ids = dict.fromkeys(member.id for member in members)
    return Finding(
        Kind.ASYMMETRIC,
        Severity.NOTE,
        f"{quoted_list(ids, 'and')}: {what} is {said}; they differ by more than {apart.allowed}",
        "see whether both are right, and set or measure again where one is not",
        tuple(each.measurement.place for each in pair),
        joint=members[0].joint,
        sides=tuple(member.side for member in members),
        connections=tuple(ids),
    )


def _ids(group: Group) -> str:
    return quoted_list(dict.fromkeys(member.id for member in group.members), "and")


def _and(words: Iterable[str]) -> str:
    words = list(words)
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


CHECK = Check(Kind.ASYMMETRIC, asymmetric)
