"""A joint or a side that no column gives: from the settings, a title, or the name of the sheet."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from joinmatrix.lists.grid import Grid
from joinmatrix.lists.headings import NO_JOINT_NAMES, heading_key
from joinmatrix.lists.settings import Settings
from joinmatrix.lists.values import text_of
from joinmatrix.lists.words import BOTH, EVERY_SIDE, side_labels, side_word
from joinmatrix.names import folded
from joinmatrix.place import Place


class Known(NamedTuple):
    """What the other lists of a run say.

    joints  folded name -> as written
    sides   folded label -> as written, of the sides that joints lists declare
    """

    joints: Mapping[str, str]
    sides: Mapping[str, str]


class Given(NamedTuple):
    """A value that holds for every row of a list, and what says so.

    name  what the name of the sheet says of it, "" where that says nothing or does not count
    """

    text: str
    how: str
    name: str = ""


class Dispute(NamedTuple):
    """A title and another, or the name of the sheet, that do not agree.

    meanings  on what: "joint", "side"
    places    the cells of the titles
    """

    words: str
    meanings: tuple[str, ...]
    places: tuple[Place, ...]


class Supplied(NamedTuple):
    """What holds for every row of a list, and what would if those who say it agreed."""

    given: Mapping[str, Given]
    dispute: Dispute | None = None


class Title(NamedTuple):
    """What a title says, "" for what it does not.

    hint  the side that it speaks of without being plainly that of the rows; never with a side
    """

    joint: str = ""
    side: str = ""
    hint: str = ""


# --- one title ---------------------------------------------------------------------------------

_LABEL = re.compile(
    r"\s*(joint|interface|side)\s*(?:no\.?|name)?\s*([:=\-–])\s*(\S.*)", re.IGNORECASE
)
_TOKENS = re.compile(r"[^\s_\-,;:()\[\]/&+]+")
# Words for the middle are parts of names ("centre section"), so they count alone only.
_SIDES_IN_NAMES = frozenset(
    ("l", "lh", "lhs", "left", "port", "r", "rh", "rhs", "right", "stbd", "starboard")
)
_JOINT_WORDS = frozenset(("joint", "interface"))
_LONGEST_LABEL = 20
_LABELS = {"joint": "joint", "interface": "joint", "side": "side"}
_LONGEST_NAME = 4  # words of a joint's name in a title; more are a sentence
# Words that make a sentence of a title, or another thing than a joint: "work left to do".
_ORDINARY = frozenset(
    (
        *("a", "an", "the", "this", "these", "that", "it", "its", "they", "we", "you", "who"),
        *("and", "or", "but", "not", "no", "nothing", "only", "also", "any", "each", "every"),
        *("of", "to", "in", "on", "at", "by", "for", "from", "with", "without", "into", "as"),
        *("is", "are", "was", "were", "be", "been", "has", "have", "had", "do", "does", "done"),
        *("can", "may", "must", "shall", "should", "will", "see", "use", "check", "fit", "keep"),
        *("make", "made", "mark", "marked", "before", "after", "until", "while", "when", "if"),
        *("over", "round", "around", "way", "up", "down", "off", "out", "then", "so", "than"),
        *("first", "next", "note", "notes", "please", "work", "works", "job", "jobs", "thread"),
        *("threads", "threaded", "still", "yet", "now", "ones", "ports", "caps", "turn", "turns"),
    )
)
# The words of a title, a letter for each: a Side, Around it, Both, Every, aNd; a Joint word; x for
# what no joint is called.
_SIDE_RUN = re.compile(r"b?sa*(?:n?sa*)*|ba+|ea")
_NUMBERED = frozenset(("rev", "issue", "page", "sheet", "draft", "copy", "item", "table"))
_AROUND_SIDES = frozenset(("hand", "handed", "side", "sides"))
_EVERY = frozenset(("all", "each", "every", "either"))
_SET_APART = re.compile(r"[-–_,;:/(\[]\s*\w+\W*$")
_DIGITS = re.compile(r"\d+")
# What is said of a side beyond doubt, wherever it stands in a title.
_SPEAKS_OF_SIDE = re.compile(
    r"\b(lhs?|rhs?|stbd|starboard)\b"
    r"|\b(left|right|port)(?:[- ]?hand(?:ed)?)?[- ]sides?\b"
    r"|\bon the (left|right)\b"
    r"|\b(both|all|each|every|either)\s+sides?\b"
)
_MIDDLE = frozenset(("c", "cl", "centre", "center", "central", "mid", "middle", "centreline"))


@lru_cache(maxsize=4096)
def _tokens(text: str) -> tuple[str, ...]:
    return tuple(_TOKENS.findall(text))


def read_title(text: str, known: Known) -> Title:
    """What a title, or the name of a sheet, says of joint and side.

    A joint is believed when another list knows it, when the title calls it one, or when a side
    stands with it and it is no word such as "hydraulics". A sentence says neither; where it
    speaks of a side all the same ("all lines of the left side"), that is only a hint.
    """
    if found := _labelled(text, known):
        return found
    if joint := known.joints.get(_joint_key(text)) or known.joints.get(folded(text)):
        return Title(joint=joint)
    if side := _whole_side(text, known):
        return Title(side=side)
    return _from_words(text, known) or Title(hint=_hint(text))


def _labelled(text: str, known: Known) -> Title | None:
    """A title that says what it is: "Joint: tail", "Side = L"."""
    match = _LABEL.fullmatch(text)
    if not match or (match[2] in "-–" and not _is_name(_tokens(match[3]))):
        return None
    if match[1].lower() == "side":
        said = match[3].strip()
        return Title(side=known.sides.get(folded(said), said))
    inner = read_title(match[3], known)
    return Title(joint=inner.joint or match[3].strip(), side=inner.side)


def is_label(text: str) -> bool:
    """Whether a cell is a label whose value stands in the next: "Joint:", "Side"."""
    return len(text) < _LONGEST_LABEL and heading_key(text) in _LABELS


def title_of(texts: Sequence[str], known: Known) -> Title:
    """A title in one cell ("Joint: tail"), or a word and its value side by side."""
    if len(texts) == 1:
        return read_title(texts[0], known)
    said: dict[str, str] = {}
    for word, value in pairwise(texts):
        said.setdefault(_LABELS.get(heading_key(word), ""), value)
    inner = read_title(f"joint: {said['joint']}", known) if "joint" in said else Title()
    return inner._replace(side=said.get("side", inner.side))


def _whole_side(text: str, known: Known) -> str:
    """A title that is one side or several: "LH", "Both sides", "1 & 2"."""
    if declared := known.sides.get(folded(text)):
        return declared
    if folded(text) in EVERY_SIDE:
        # "All" alone may be all lines as well.
        return BOTH if len(text.split()) > 1 or folded(text) == BOTH else ""
    for alike in (tuple(dict.fromkeys(known.sides.values())), ("L", "R")):
        labels = side_labels(text, alike)
        if labels:
            return labels[0] if len(labels) == 1 else text.strip()
    return ""


def _joint_key(text: str) -> str:
    return folded(" ".join(_tokens(text)))


def _from_words(text: str, known: Known) -> Title | None:
    """A joint with a side before or behind it, or called a joint; None for anything else."""
    tokens = _tokens(text)
    codes = "".join(map(_code, tokens))
    runs = [match.span() for match in _SIDE_RUN.finditer(codes)]
    start, end = runs[0] if len(runs) == 1 else (0, 0)
    if len(runs) > 1 or (codes[:start].strip("x") and codes[end:].strip("x")):
        return None
    side = _side_of_run(tokens[start:end])
    called = "j" in (codes[:1], codes[-1:]) or (bool(side) and "j" in codes)
    rest = [each for each in (*tokens[:start], *tokens[end:]) if _code(each) != "j"]
    joint = _known_joint(rest, known)
    if joint:
        return Title(joint, side)
    if side and rest and {folded(each) for each in rest} <= _MIDDLE:
        return Title(hint="?")  # "C/L" is the centre line to some and two sides to others
    if (rest and not _is_name(rest)) or (side and _is_loose(text, tokens[start:end], start, rest)):
        return None
    return Title(_believed(rest) if called or side else "", side)


@lru_cache(maxsize=4096)
def _code(token: str) -> str:
    word = folded(token).replace(".", "")
    if word in _SIDES_IN_NAMES:
        return "s"
    if word in _AROUND_SIDES:
        return "a"
    if word in _JOINT_WORDS:
        return "j"
    if word in _EVERY:
        return "e"
    if _is_no_joint(word) or _DIGITS.fullmatch(word):
        return "x"
    return {BOTH: "b", "and": "n"}.get(word, "w")


def _side_of_run(tokens: Sequence[str]) -> str:
    """The side that the words of a title say; those of several as a cell would have them."""
    if not tokens:
        return ""
    if {_code(each) for each in tokens} & {"b", "e"}:
        return BOTH
    sides = dict.fromkeys(side_word(each) or "" for each in tokens if _code(each) == "s")
    return " & ".join(sides)


def _is_name(words: Sequence[str]) -> bool:
    """Whether words could be the name of a joint, and not a sentence."""
    return 0 < len(words) <= _LONGEST_NAME and not {folded(each) for each in words} & _ORDINARY


def _is_loose(text: str, run: Sequence[str], start: int, rest: Sequence[str]) -> bool:
    """Whether a single word for a side may mean something else: "port list", "lines left"."""
    word = folded(run[0])
    if len(run) > 1 or not rest:
        return False
    if word in ("l", "r"):
        return bool(start) and folded(rest[start - 1]) in _NUMBERED
    if word not in ("left", "right", "port"):
        return False
    other = any(map(_is_no_joint, rest))
    if start == 0:
        return word == "port" and other
    return other and not _SET_APART.search(text)


def _is_no_joint(word: str) -> bool:
    """Whether a word, or one with its number ("rev2"), is none of a joint's name."""
    return folded(word).rstrip("0123456789") in NO_JOINT_NAMES


def _known_joint(words: Sequence[str], known: Known) -> str:
    name = folded(" ".join(words))
    return known.joints.get(name) or known.joints.get(f"{name} joint") or ""


def _believed(words: Sequence[str]) -> str:
    """The words as the name of a joint, "" when that would be a guess."""
    if any(map(_is_no_joint, words)) or all(_DIGITS.fullmatch(each) for each in words):
        return ""
    return " ".join(words)


def _hint(text: str) -> str:
    """The side that a sentence speaks of, "?" for several."""
    matches = _SPEAKS_OF_SIDE.findall(folded(text).replace(".", ""))
    said = {BOTH if match[3] else side_word("".join(match)) or "?" for match in matches}
    return said.pop() if len(said) == 1 else "?" if said else ""


def speaks_of_middle(text: str) -> bool:
    """Whether a short title has a word for the centre line, which may be part of a name."""
    words = {folded(each) for each in _tokens(text)}
    return len(words) <= _LONGEST_NAME and bool(words & _MIDDLE)


def same_side(one: str, other: str) -> bool:
    """Whether two texts say the same side."""
    return folded(one) == folded(other) or (
        (labels := side_labels(one)) is not None and labels == side_labels(other)
    )


# --- what holds for a whole sheet --------------------------------------------------------------

_MOST_TITLES = 10  # rows of titles above a list


class _Claim(NamedTuple):
    """What a title, or the name of a sheet, says; place is that of its cell, None for a name."""

    title: Title
    words: str
    how: str
    place: Place | None = None

    @property
    def shown(self) -> str:
        who = f"row {self.place.row}" if self.place else self.how.removeprefix("from ")
        return f'{who} says "{self.words}"'


def given_for_sheet(
    grid: Grid, top: int, missing: Collection[str], known: Known, settings: Settings
) -> Supplied:
    """Joint and side as far as the settings, the titles above a list or the sheet's name say.

    top  index of the headings
    """
    said = settings.sheet(grid.sheet or _stem(grid.file))
    given = {
        name: Given(text, f"from {settings.file}")
        for name, text in (("joint", said.joint), ("side", said.side))
        if text and name in missing
    }
    open_ = [name for name in ("joint", "side") if name in missing and name not in given]
    claims = list(_claims(grid, top, known))
    for name in open_:
        first = next((each for each in claims if getattr(each.title, name)), None)
        if first:
            given[name] = Given(
                getattr(first.title, name), first.how, getattr(claims[-1].title, name)
            )
    dispute = _dispute(claims, open_)
    if dispute:
        given = {name: each for name, each in given.items() if name not in dispute.meanings}
    return Supplied(given, dispute)


def _claims(grid: Grid, top: int, known: Known) -> Iterator[_Claim]:
    """The titles above a list, the nearest first, and last the name of the sheet."""
    for index, texts in _titles_above(grid, top):
        row = grid.row(index)
        column = next(at for at, value in enumerate(row, 1) if text_of(value))
        place = grid.place(grid.rows[index], column)
        how = f"from the title in row {place.row}"
        yield _Claim(title_of(texts, known), " ".join(texts), how, place)
    name = grid.sheet or _stem(grid.file)
    what = "sheet" if grid.sheet else "file"
    yield _Claim(read_title(name, known), name, f"from the name of the {what}")


def _dispute(claims: Sequence[_Claim], meanings: Collection[str]) -> Dispute | None:
    """The first two claims of which one cannot be right if the other is."""
    for at, one in enumerate(claims):
        for other in claims[at + 1 :]:
            at_odds = tuple(each for each in meanings if _differ(each, one.title, other.title))
            if at_odds:
                places = tuple(each.place for each in (one, other) if each.place)
                return Dispute(f"{one.shown} and {other.shown}", at_odds, places)
    return None


def _differ(meaning: str, one: Title, other: Title) -> bool:
    if meaning == "side":
        first, second = one.side or one.hint, other.side or other.hint
        plain = bool(one.side or other.side)
        return plain and bool(first and second) and not same_side(first, second)
    first_words, second_words = ({*folded(each.joint).split()} for each in (one, other))
    # "wing" and "wing root" are the same said more exactly.
    return not (first_words <= second_words or second_words <= first_words)


def _stem(file: str) -> str:
    return re.sub(r"\.[^.]*$", "", file.replace("\\", "/").rpartition("/")[2])


def _titles_above(grid: Grid, top: int) -> Iterator[tuple[int, list[str]]]:
    """Rows straight above the headings that are titles: one text, or words with their values."""
    for index in range(top - 1, max(-1, top - 1 - _MOST_TITLES), -1):
        texts = [text for value in grid.row(index) if (text := text_of(value))]
        if not texts:
            continue
        if len(texts) > 1 and heading_key(texts[0]) not in _LABELS:
            return
        yield index, texts
