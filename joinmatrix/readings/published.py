"""What a published table says of a connection for which the lists give no limit.

Only where type, size and ends clearly match: a bolt or nut with a thread of the table, or a tube or
hose whose ends are all 37 degree flares with a dash size of the table.
"""

import re
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Connection
from joinmatrix.names import folded
from joinmatrix.reference.ends import read_end
from joinmatrix.reference.torque import bolt_torques, tube_nut_torques


class Published(NamedTuple):
    """A row of a published table.

    what    the size and form that the table goes by: "37 degree flare -6"
    values  its torques, a clause
    source  where it is published, and for which threads
    """

    what: str
    values: str
    source: str


_BOLTED = re.compile(r"\b(?:bolt|nut|screw|stud)s?\b")
_NOT_BOLTED = re.compile(r"\b(?:tube|b|union) nuts?\b|\bturnbuckles?\b")
_THREAD = re.compile(r"(?:no\.?\s*|#\s*)?(\d+(?:-\d+/\d+|/\d+)?)\"?-(\d+)(?:\s*-?\s*un[jrfcs]*.*)?")
_DASH = re.compile(r"(?:dash\s*-?|size\s*-|-)\s*0?(\d{1,2})")
_INCHES = re.compile(r"(\d+(?:-\d+)?(?:/\d+)?)\s*(?:\"|''|in\.?|inch(?:es)?)")
_HOSE = re.compile(r"\bhoses?\b")


def published(connection: Connection) -> Published | None:
    """The row of a published table that covers a connection, if one clearly does."""
    return _published(
        connection.type,
        (connection.from_size, connection.to_size),
        (connection.from_end, connection.to_end),
    )


@lru_cache(maxsize=1 << 14)
def _published(kind: str, sizes: tuple[str, str], ends: tuple[str, ...]) -> Published | None:
    size = sizes[0] or sizes[1]
    if not size or sizes[1] not in ("", size):
        return None
    ends = tuple(filter(None, ends))
    if ends and all(_is_flare_37(end) for end in ends):
        return _tube_nut(folded(kind), folded(size))
    if _BOLTED.search(folded(kind)) and not _NOT_BOLTED.search(folded(kind)):
        return _bolt(folded(size))
    return None


def _is_flare_37(end: str) -> bool:
    return any(form.name == "flare 37" for form in read_end(end).forms.values())


def _bolt(size: str) -> Published | None:
    match = _THREAD.fullmatch(size)
    row = bolt_torques().get(f"{match[1]}-{match[2]}") if match else None
    if row is None:
        return None
    guess = " (an estimate)" if row.estimated else ""
    return Published(
        f"thread {row.thread}",
        f"{row.tension} for a tension nut, {row.shear}{guess} for a shear nut",
        f"{row.source}, steel nuts on oil-free threads",
    )


def _tube_nut(kind: str, size: str) -> Published | None:
    table = tube_nut_torques()
    if match := _DASH.fullmatch(size):
        row = table.get(f"-{match[1]}")
    elif match := _INCHES.fullmatch(size):
        row = next((each for each in table.values() if each.tube_outside == match[1]), None)
    else:
        row = None
    if row is None:
        return None
    values = f"{row.aluminium} for an aluminium tube, {row.steel} for a steel tube"
    if _HOSE.search(kind):
        values = f"{row.hose} for a hose end"
    return Published(f"37 degree flare {row.dash}", values, f"{row.source}, lubricated threads")
