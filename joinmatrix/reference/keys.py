"""Keying and clocking positions: the two ends of a connection carry the same one.

`connector_keys.csv` has the key angles of MIL-DTL-38999 Series III connectors. Plug and receptacle
mate with the same letter; the letters of one shell size differ by ten degrees at least.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.reference.marks import plain
from joinmatrix.reference.match import SAME, Comparison, Match
from joinmatrix.reference.tables import rows


class KeyAngles(NamedTuple):
    """Where the four minor keys of one position stand, in degrees from the master key.

    shell, code  shell size as number and as letter
    """

    shell: int
    code: str
    position: str
    angles: tuple[int, int, int, int]
    sure: str
    source: str


_NOISE = re.compile(r"\b(?:key|keyway|keyed|keying|position|pos|clocking|clock|at|no)\b[.: ]*")
_DEGREES = re.compile(r"\s*(?:°|\bdegrees?\b|\bdegs?\b)")
_OCLOCK = re.compile(r"\s*(?:o'?\s*clock|oclock)\b")
_NORMAL = {"normal": "n", "std": "n", "standard": "n"}
_WITH_CONTACT = re.compile(r"([ps])([nabcde])")  # PN, PA ... PE, SN, SA ... SE


@lru_cache(maxsize=1)
def key_angles() -> Mapping[tuple[int, str], KeyAngles]:
    """The table by shell size and position."""
    found = {}
    for row in rows("connector_keys.csv"):
        a, b, c, d = (int(row[f"key_{letter}"]) for letter in "abcd")
        found[int(row["shell"]), row["position"]] = KeyAngles(
            int(row["shell"]), row["code"], row["position"], (a, b, c, d), row["sure"],
            row["source"],
        )  # fmt: skip
    return found


@lru_cache(maxsize=1)
def shell_codes() -> Mapping[str, int]:
    """The letter of each shell size: A is 9, J is 25; there is no I."""
    return {row.code: row.shell for row in key_angles().values()}


@lru_cache(maxsize=1 << 14)
def canonical(text: str) -> str:
    """One text for all spellings of a position: "Key A", "pos. a" and "a" are one."""
    whole = _OCLOCK.sub("h", _DEGREES.sub("°", plain(text)))
    said = " ".join(_NOISE.sub(" ", whole).split())
    if not said and whole:
        return "no key" if whole.startswith("no ") else "key"
    return _NORMAL.get(said, said)


@lru_cache(maxsize=1 << 14)
def compare(one: str, other: str, shell: int | None = None) -> Comparison:
    """Whether two positions let the ends in.

    shell  shell size of a connector, when known: then the angles can be told
    """
    ours, theirs = canonical(one), canonical(other)
    mine, facing = _WITH_CONTACT.fullmatch(ours), _WITH_CONTACT.fullmatch(theirs)
    if mine and facing:
        if mine[1] == facing[1]:
            named = "pins" if mine[1] == "p" else "sockets"
            why = f"both carry {named}, and one half has to carry the other contacts"
            return Comparison(Match.DIFFERS, why, "MIL-DTL-38999 part codes", "memory")
        ours, theirs = mine[2], facing[2]
    if ours == theirs:
        return SAME
    angles = key_angles()
    mine_at = angles.get((shell or 0, ours.upper()))
    theirs_at = angles.get((shell or 0, theirs.upper()))
    if mine_at and theirs_at:
        why = (
            f"on shell {shell} the keys of {mine_at.position} stand at {_text(mine_at)}, those of "
            f"{theirs_at.position} at {_text(theirs_at)} degrees"
        )
        return Comparison(Match.DIFFERS, why, mine_at.source, mine_at.sure)
    return Comparison(Match.DIFFERS, "only equal positions let the two ends in")


def _text(angles: KeyAngles) -> str:
    return ", ".join(str(each) for each in angles.angles)
