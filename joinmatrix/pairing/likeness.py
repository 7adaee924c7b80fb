"""How alike two connections of alike sides are, seen column by column.

A mechanic who looks for the counterpart of a line looks at what it carries and at what it is. So
service and type decide whether two can belong together at all, and the rest tells between those
that can.
"""

from collections import Counter
from collections.abc import Iterable
from difflib import SequenceMatcher
from functools import lru_cache

from joinmatrix.assembly.model import Connection
from joinmatrix.names import all_folded, folded
from joinmatrix.pairing.tokens import OWN, SideWords, side_words, words_of, words_of_lines

# How much each column says about two connections being counterparts.
_WEIGHTS = {
    "type": 3.0, "service": 6.0, "from_size": 1.0, "to_size": 1.0, "from_end": 1.0, "to_end": 1.0,
    "from_key": 1.0, "to_key": 1.0, "place": 0.75, "timing": 0.75, "inspect": 0.75,
    "closed_by": 0.75, "limits": 1.0,
}  # fmt: skip
_FIELDS = {name: (Connection._fields.index(name), weight) for name, weight in _WEIGHTS.items()}
_REST = [field for name, field in _FIELDS.items() if name not in ("type", "service")]
_REST_TEXTS = slice(min(index for index, _ in _REST), max(index for index, _ in _REST) + 1)
# What only tells between equals: two names say nothing when each side numbers its own way.
_HINTS = {"id": 0.02, "from_port": 0.03, "to_port": 0.03, "part": 0.02}
_HINT_FIELDS = [(Connection._fields.index(name), weight) for name, weight in _HINTS.items()]
# A side that leaves a column blank has not contradicted the other.
_BLANK = 0.5
THRESHOLD = 0.6
# Without a service on either there is little to go by, so more of the little has to agree.
THRESHOLD_UNNAMED = 0.8
_SAME_THING = 0.5
_MISSPELT = 0.84  # one letter wrong in six, two in twelve

# Words that tell two lines of one joint apart: a supply is never the counterpart of a return.
_OPPOSITES = [
    {"up", "down"}, {"supply", "return"}, {"pressure", "return"}, {"feed", "return"},
    {"flow", "return"}, {"pressure", "suction"}, {"pressure", "vent"}, {"pressure", "drain"},
    {"in", "out"}, {"inlet", "outlet"}, {"open", "close"}, {"extend", "retract"},
    {"fwd", "aft"}, {"forward", "aft"}, {"front", "rear"}, {"upper", "lower"}, {"top", "bottom"},
    {"inboard", "outboard"}, {"inner", "outer"}, {"main", "standby"}, {"main", "emergency"},
    {"normal", "emergency"}, {"primary", "secondary"}, {"positive", "negative"}, {"hot", "cold"},
    {"static", "dynamic"}, {"static", "pitot"},
]  # fmt: skip


class Likeness:
    """Scores connections of one set of alike sides, each different pair of texts once."""

    def __init__(self, words: SideWords) -> None:
        self._words = words
        self._seen: dict[tuple[str, str], tuple[str, ...]] = {}
        self._rest: dict[tuple[object, str], tuple[object, ...]] = {}

    def seen(self, text: str, side: str) -> tuple[str, ...]:
        """The words of a text without those for its own side."""
        known = self._seen.get((text, side))
        if known is None:
            marked = self._words.marked_text(folded(text), side)
            known = words_of(marked.replace(OWN, " "))
            self._seen[text, side] = known
        return known

    def learn(self, texts: Iterable[str], side: str) -> None:
        """See many texts of one side at once, which costs less than one by one."""
        seen = self._seen
        new = [text for text in dict.fromkeys(texts) if (text, side) not in seen]
        if not new:
            return
        marked = self._words.marked_text("\n".join(all_folded(new)), side)
        for text, words in zip(new, words_of_lines(marked.replace(OWN, " ")), strict=True):
            seen[text, side] = words

    def profile(self, member: Connection) -> tuple[object, ...]:
        """The words of every compared column; the same for two that are alike in all of them."""
        side = member.key.side
        texts = (member[_REST_TEXTS], side)
        rest = self._rest.get(texts)
        if rest is None:
            rest = tuple([self.seen(str(member[index]), side) for index, _ in _REST])
            self._rest[texts] = rest
        return self.seen(member.type, side), self.seen(member.service, side), rest

    def may_pair(self, one: Connection, other: Connection) -> bool:
        """Whether they can be counterparts at all: one type of thing, no other service."""
        if one.type != other.type:
            type_a = self.seen(one.type, one.key.side)
            type_b = self.seen(other.type, other.key.side)
            if type_a != type_b and shared_words(type_a, type_b) < _SAME_THING:
                return False
        return self.may_serve_one_thing(one, other)

    def may_serve_one_thing(self, one: Connection, other: Connection) -> bool:
        """Whether their services do not contradict each other."""
        service_a, service_b = one.service, other.service
        return (
            service_a == service_b
            or not (service_a and service_b)
            or self._alike(service_a, one.key.side, service_b, other.key.side) >= _SAME_THING
        )

    def score(self, one: Connection, other: Connection) -> float:
        """How alike they are, 0 to 1, and a little above for like names; 0 below the threshold."""
        if not self.may_pair(one, other):
            return 0.0
        total = reached = 0.0
        for index, weight in _FIELDS.values():
            a, b = str(one[index]), str(other[index])
            if a and b:
                total += weight
                reached += weight * self._alike(a, one.key.side, b, other.key.side)
            elif a or b:
                total += weight * _BLANK
        score = reached / total if total else 0.0
        unnamed = not one.service and not other.service
        if score < (THRESHOLD_UNNAMED if unnamed else THRESHOLD):
            return 0.0
        return score + sum(
            weight * self._alike(str(one[index]), one.key.side, str(other[index]), other.key.side)
            for index, weight in _HINT_FIELDS
            if one[index] and other[index]
        )

    def _alike(self, a: str, side_a: str, b: str, side_b: str) -> float:
        if a == b:
            return 1.0
        words_a, words_b = self.seen(a, side_a), self.seen(b, side_b)
        return likeness(*sorted((words_a, words_b)))

    def agreeing(self, one: Connection, other: Connection) -> list[str]:
        """The columns in which both say the same, in the order of their weight."""
        return [
            name.replace("_", " ")
            for name, (index, _) in sorted(_FIELDS.items(), key=lambda each: -each[1][1])
            if one[index]
            and other[index]
            and self._alike(
                str(one[index]), one.key.side, str(other[index]), other.key.side
            ) == 1.0
        ]  # fmt: skip


class Likenesses(dict[tuple[str, ...], Likeness]):
    """The likeness of each set of alike sides, made when it is asked for; what it saw is kept."""

    def __missing__(self, alike: tuple[str, ...]) -> Likeness:
        self[alike] = Likeness(side_words(alike))
        return self[alike]


@lru_cache(maxsize=1 << 16)
def likeness(a: tuple[str, ...], b: tuple[str, ...]) -> float:
    """How alike two texts are, by their words: 1 the same, 0 nothing in common.

    Numbers and opposite words tell things apart, however much else is the same: "cell 3" is not
    "cell 4", and "brake supply" is not "brake return".
    """
    if a == b:
        return 1.0
    only_a, only_b = _apart(a, b)
    if any(word[0].isdigit() for word in only_a) and any(word[0].isdigit() for word in only_b):
        return 0.0
    if any({x, y} in _OPPOSITES for x in only_a for y in only_b):
        return 0.0
    share = shared_words(a, b)
    # Words on one side only say more of the same; words on both sides say something else.
    return share / 2 if only_a and only_b else share


def shared_words(a: tuple[str, ...], b: tuple[str, ...]) -> float:
    """The share of the words of two texts that stands in both, 0 to 1 (the Dice measure)."""
    if not a and not b:
        return 1.0
    only_a, only_b = _apart(a, b)
    return 1 - (len(only_a) + len(only_b)) / (len(a) + len(b))


@lru_cache(maxsize=1 << 16)
def _apart(a: tuple[str, ...], b: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The words that stand in one text only, misspelt and shortened ones taken as the same."""
    left, right = Counter(a), Counter(b)
    only_a, only_b = list((left - right).elements()), list((right - left).elements())
    for word in list(only_a):
        close = next((other for other in only_b if _same_word(word, other)), None)
        if close is not None:
            only_a.remove(word)
            only_b.remove(close)
    return tuple(only_a), tuple(only_b)


@lru_cache(maxsize=1 << 16)
def _same_word(a: str, b: str) -> bool:
    """A shortened or misspelt word: "hyd" and "hydraulic", "presure" and "pressure"."""
    if a[0] != b[0] or min(len(a), len(b)) < 3 or a[0].isdigit():
        return False
    if a.startswith(b) or b.startswith(a):
        return True
    if min(len(a), len(b)) < 4 or abs(len(a) - len(b)) > 2:
        return False
    match = SequenceMatcher(None, min(a, b), max(a, b), autojunk=False)
    return match.quick_ratio() >= _MISSPELT and match.ratio() >= _MISSPELT
