"""A matrix: connections down, sides or joints across, and a mark in each crossing."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from typing import NamedTuple

from joinmatrix.lists.meanings import Candidates, Seen, seen_as
from joinmatrix.lists.settings import Settings
from joinmatrix.lists.supplied import Known
from joinmatrix.lists.table import ListKind
from joinmatrix.lists.ticks import tick
from joinmatrix.lists.words import side_word
from joinmatrix.names import folded

NOT_APPLICABLE = frozenset(("n/a", "na", "n.a.", "not applicable"))
# A mark that says that there is no such connection, not that it is still to be made.
NOT_THERE = NOT_APPLICABLE | {"none", "nil", "-", "--", "–", "—", "/"}
BARE = frozenset(("x", "✓", "✔", "1", "true", "y", "yes", "☑", "☒"))
_TELL_NOTHING = BARE | NOT_THERE | {""}


def crossings_of(
    headings: Candidates,
    seen: tuple[Seen, ...],
    missing: Collection[str],
    known: Known,
    settings: Settings,
) -> tuple[str, tuple[Seen, ...]]:
    """The columns that are sides or joints, and which of the two; ("", ()) when none are.

    A heading is a side ("LH"), or a side with what the column says of it ("made LH"). Alone it
    is the tick "made". It takes two sides or more to make a matrix.
    """
    if "side" in missing:
        crossings = tuple(
            found
            for each in seen
            if not each.known or not each.sure or each.text != headings[each.column][0]
            if (found := side_crossing(each, headings[each.column], known, settings))
        )
        crossings = _in_company(crossings)
        if crossings:
            return "side", crossings
    if "joint" in missing:
        crossings = tuple(
            each._replace(meaning="made", label=known.joints[folded(each.text)], sure=True)
            for each in seen
            if not each.known and folded(each.text) in known.joints
        )
        if len(crossings) > 1:
            return "joint", crossings
    return "", ()


def side_crossing(
    each: Seen, texts: Collection[str], known: Known, settings: Settings
) -> Seen | None:
    """What a heading means as the column of one side: "LH" or "made LH"; None when it is none."""
    for text in texts:
        if label := _label(text, known):
            return Seen(each.column, text, "made", label=label)
        words = text.split()
        for side, rest in ((words[0], words[1:]), (words[-1], words[:-1])):
            label = _label(side, known)
            if not label or not rest:
                continue
            meant = seen_as({each.column: [" ".join(rest)]}, ListKind.CONNECTIONS, settings)[0]
            if meant.known and not meant.measure:
                return meant._replace(text=text, label=label)
    return None


def _label(text: str, known: Known) -> str:
    """The side that a heading is, as it is declared."""
    plain = text.strip("()[]: ")
    return known.sides.get(folded(plain)) or side_word(plain) or ""


def says_what(crossing: Seen, known: Known) -> bool:
    """Whether the heading says what is ticked, as "made LH" does, and not only of what."""
    return not _label(crossing.text, known) and folded(crossing.text) not in known.joints


def _in_company(crossings: tuple[Seen, ...]) -> tuple[Seen, ...]:
    """Those whose meaning stands under two sides or more, each once."""
    labels: defaultdict[str, list[str]] = defaultdict(list)
    for each in crossings:
        labels[each.meaning].append(each.label)
    good = {
        meaning
        for meaning, names in labels.items()
        if len(set(names)) > 1 and len(set(names)) == len(names)
    }
    return tuple(each for each in crossings if each.meaning in good)


class Marks(NamedTuple):
    """How the marks of a matrix are to be read.

    blank_is_there  a blank crossing is a connection that is not made yet
    doubtful        nothing tells whether a bare x means "made" or "is there"
    """

    blank_is_there: bool
    doubtful: bool


def judge_marks(axis: str, words: Collection[str], *, named: bool) -> Marks:
    """Decide from all marks of a matrix what a blank and what a bare x mean.

    named  the headings say what is ticked ("made LH")

    A date, initials or a word such as "open" shows that the marks are ticks, and so do marks of
    three sorts: x, blank and "n/a". Across joints a connection is at one of them, so a
    blank there is no connection. What is no tick ("L", "?") shows nothing.
    """
    plain = {folded(word) for word in words}
    telling = any(folded(word) not in _TELL_NOTHING and tick(word) for word in words)
    three_ways = axis == "side" and "" in plain and bool(plain & NOT_THERE) and bool(plain & BARE)
    doubtful = bool(plain & BARE) and not (named or telling or three_ways)
    return Marks(blank_is_there=axis == "side", doubtful=doubtful)


def labels_of(crossings: Collection[Seen]) -> Mapping[str, dict[str, int]]:
    """Label -> meaning -> 0-based column, labels from left to right."""
    found: defaultdict[str, dict[str, int]] = defaultdict(dict)
    for each in crossings:
        found[each.label][each.meaning] = each.column
    return found
