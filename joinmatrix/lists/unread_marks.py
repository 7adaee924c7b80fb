"""Ticks under the name of a side or a joint, in a column that is not read."""

from joinmatrix.lists.crossings import side_crossing
from joinmatrix.lists.meanings import Seen
from joinmatrix.lists.table import ListKind, Trouble
from joinmatrix.lists.ticks import may_be_dated, tick
from joinmatrix.lists.values import texts
from joinmatrix.lists.words import EVERY_SIDE
from joinmatrix.lists.work import ListWork
from joinmatrix.names import folded, quoted_list

_TICKS = frozenset(f"{act}{part}" for act in ("made", "inspected") for part in ("", " on", " by"))


def report_unread_marks(work: ListWork) -> None:
    """Say so where a list has ticks under "LH" and "RH" beside a column "side", and the like."""
    if work.found.kind is not ListKind.CONNECTIONS:
        return
    for axis in ("side", "joint"):
        unread = [
            each
            for each in work.found.seen
            if not each.known and _axis(work, each) == axis and _has_ticks(work, each.column)
        ]
        if unread:
            _report(work, axis, unread)


def _axis(work: ListWork, each: Seen) -> str:
    """Whether a heading names a side or a joint, with or without what is ticked; "" if neither."""
    key = folded(each.text)
    if key in map(folded, set(work.cells.get("joint", ()))):
        return "joint"
    if key in EVERY_SIDE or key in map(folded, set(work.cells.get("side", ()))):
        return "side"
    crossing = side_crossing(each, [each.text], work.known, work.settings)
    return "side" if crossing and crossing.meaning in _TICKS else ""


def _has_ticks(work: ListWork, column: int) -> bool:
    values = dict.fromkeys(work.raw(column))
    return any(
        may_be_dated(text) or ((said := tick(text)) is not None and said.done)
        for text in set(texts(values).values())
    )


def _report(work: ListWork, axis: str, unread: list[Seen]) -> None:
    names = quoted_list([each.text for each in unread], "and")
    own_rows = f'put the tick of each {axis} under "made", in a row of its own'
    if work.found.axis == axis:
        read = quoted_list([each.text for each in work.found.crossings], "and")
        why = f"only {read} were read as {axis}s"
        remedy = f"put each tick under the {axis} that it is for, and give each the same columns"
    elif axis in work.columns:
        why = f"column {work.heading_name(work.columns[axis])} says of which {axis} each row is"
        remedy = f'{own_rows}, or delete the column "{axis}"'
    else:
        why = f"the {axis} of each row is that of its title or of the name of the sheet"
        remedy = own_rows
    first, *others = (work.heading_place(each.column) for each in unread)
    found = f"there are ticks under {names}, which were not read: {why}"
    work.troubles.append(Trouble(first, found, remedy, others=tuple(others)))
