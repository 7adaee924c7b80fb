"""Ticks under the name of a side or a joint, in a column that is not read."""

from collections.abc import Collection, Mapping

from joinmatrix.lists.crossings import side_crossing
from joinmatrix.lists.meanings import Seen
from joinmatrix.lists.table import ListKind, Trouble
from joinmatrix.lists.ticks import may_be_dated, tick
from joinmatrix.lists.values import texts
from joinmatrix.lists.words import EVERY_SIDE
from joinmatrix.lists.work import ListWork
from joinmatrix.names import folded, quoted_list

_AXES = ("side", "joint")
_TICKS = frozenset(f"{act}{part}" for act in ("made", "inspected") for part in ("", " on", " by"))


def report_unread_marks(work: ListWork) -> None:
    """Say so where a list has ticks under "LH" and "RH" beside a column "side", and the like."""
    if work.found.kind is not ListKind.CONNECTIONS:
        return
    unread = [each for each in work.found.seen if not each.known]
    if not unread:
        return
    named = {axis: {folded(each) for each in set(work.cells.get(axis, ()))} for axis in _AXES}
    ticked: dict[str, list[Seen]] = {axis: [] for axis in _AXES}
    for each in unread:
        axis = _axis(work, each, named)
        if axis and _has_ticks(work, each.column):
            ticked[axis].append(each)
    for axis, found in ticked.items():
        if found:
            _report(work, axis, found)


def _axis(work: ListWork, each: Seen, named: Mapping[str, Collection[str]]) -> str:
    """Whether a heading names a side or a joint, with or without what is ticked; "" if neither.

    named  "side", "joint" -> the folded names that the rows of the list have
    """
    key = folded(each.text)
    if key in named["joint"]:
        return "joint"
    if key in EVERY_SIDE or key in named["side"]:
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
