"""Headings that are nearly those of a list: how near, and nearer to which."""

from joinmatrix.lists.found import NearMiss
from joinmatrix.lists.headings import NEEDS, heading_key
from joinmatrix.lists.meanings import Seen
from joinmatrix.lists.table import ListKind

_BY_CONNECTION = (ListKind.CONNECTIONS, ListKind.RECORD)  # lists that connections name
_WEAK = ("", "remarks", "part", "unit", "seq")  # headings that tell nothing of what a list is


def nearly(kind: ListKind, seen: tuple[Seen, ...], lacking: int, *, has_rows: bool) -> bool:
    """Whether that many missing headings still leave no doubt what the list was to be."""
    sure = _sure_things(seen)
    meanings = {meaning for meaning, _ in sure}
    if lacking and has_rows and kind in _BY_CONNECTION and "connection" in meanings:
        named = any(each.meaning == "connection" and _is_named(each) for each in seen)
        if len(sure) > (1 if named else 2) and (
            named or sum(each.known for each in seen) * 2 > len(seen)
        ):
            return True
    if kind is ListKind.CONNECTIONS and lacking == 2:
        return {"joint", "side"} <= meanings and len(meanings) >= 4
    if kind is ListKind.TEMPORARY and "remove" in meanings:
        return lacking == 1 and len(meanings) >= 2
    return lacking == 1 and len(meanings) >= (3 if len(NEEDS[kind]) > 2 else 4)


def _sure_things(seen: tuple[Seen, ...]) -> set[tuple[str, str]]:
    """What the headings surely mean, and of which side or joint, without what any list may have."""
    return {(each.meaning, each.label) for each in seen if each.sure and each.meaning not in _WEAK}


def _is_named(heading: Seen) -> bool:
    """Whether a heading names connections, and is no "ID" or "Tag" that any list may have."""
    return heading_key(heading.text).startswith("conn")


def nearness(miss: NearMiss) -> tuple[int, int, bool]:
    """The likeliest of several: with the most sure headings, and the fewest missing."""
    connections = miss.kind is ListKind.CONNECTIONS
    return len(_sure_things(miss.seen)), -len(miss.missing), connections
