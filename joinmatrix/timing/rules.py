"""The words of timing rules: text to clauses.

    rule      clauses joined by ";" or "," or "and"
    clause    after NAMES | not before NAMES
              before NAMES | by NAMES
              during NAME | with NAME
              between NAME and NAME
              at least DURATION after NAME
              within DURATION of NAME, within DURATION after NAME
              any time
    NAMES     stages or connections, joined by "," "and" "&"
    DURATION  number with min, h, d or weeks

A name can hold the words that join names and clauses ("gear down and locked"), so wherever a name
may stand the longest known one is tried first, and the reading backs off to a shorter one when the
rest then cannot be read. A text is read once, however many rows repeat it.
"""

import bisect
import math
import re
from collections.abc import Iterable, Iterator
from enum import StrEnum
from functools import cached_property
from typing import NamedTuple

from joinmatrix.names import folded, quoted_list
from joinmatrix.timing.durations import DURATION, minutes_of
from joinmatrix.timing.vocabulary import EVERY, Known, Name, Vocabulary


class Word(StrEnum):
    """What a clause asks of an act, seen from the stage or connection that it names."""

    AFTER = "after"  # not before its end
    BEFORE = "before"  # not after its start
    DURING = "during"  # from its start to its end
    AT_LEAST = "at least"  # not before its end and a time more
    WITHIN = "within"  # from its end to its end and a time more


class Clause(NamedTuple):
    """One thing that a rule asks.

    minutes  the time of "at least" and "within", else 0
    """

    word: Word
    names: tuple[Name, ...]
    minutes: int


class Unread(NamedTuple):
    """Why a text is no rule: what is there, and what to do about it.

    unknown  the words that stand where a known name was expected, "" when the fault is another
    """

    found: str
    remedy: str
    unknown: str = ""


# --- clauses -----------------------------------------------------------------------------------

_HEAD = re.compile(
    rf"(?P<least>at least|no less than|not less than)\s+(?P<lag>{DURATION})\s+after\s+"
    rf"|within\s+(?P<window>{DURATION})\s+(?:of|after)\s+(?:after\s+)?"
    r"|(?P<after>not before|not earlier than|no earlier than|after)\s+"
    r"|(?P<before>before|by|prior to|not later than|no later than)\s+"
    r"|(?P<during>during|with)\s+"
    r"|(?P<between>between)\s+"
)
_BAD_DURATION = re.compile(
    r"(?:at least|no less than|not less than|within)\s+(?P<said>.{0,40}?)\s*"
    r"(?=\b(?:after|of)\b|;|$)"
)
_ANY_TIME = re.compile(r"(?:at )?any ?time\b")
_NO_RULE = frozenset(("", "-", "--", "–", "—", "n/a", "na", "none", "no rule"))
_JOIN = re.compile(r"\s*(?:[,;&\n]\s*(?:and\s+|&\s*)?|(?<=\s)and\s+)(?:then\s+)?")
_BREAK = re.compile(r"\s*[,;&\n]|\s+and\s|\s+(?=(?:after|before|during|between|within|not)\s)")
_AND = re.compile(r"\s*(?:&|(?<=\s)and\s)\s*")
_FILLER = re.compile(r"(?:the\s+)?(?:(?:stages?|connections?)\s+)?")
_END = re.compile(r"[\s.;,]*$")
_LONGEST = 8_000  # letters of a text that is still read as a rule; hundreds of names fit
HOW_TO_WRITE = (
    'write "after NAME", "before NAME", "during NAME", "between NAME and NAME", '
    '"at least 24 h after NAME", "within 2 h of NAME" or "any time"'
)


class _Fault(NamedTuple):
    """How far a reading got, and what was missing there: "name", "clause", "and", "duration"."""

    at: int
    missing: str


_Tail = tuple[tuple[Name, ...], tuple[Clause, ...]]


class RuleReader:
    """Reads the texts of rules against one vocabulary, each different text once."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self._rules: dict[str, tuple[Clause, ...] | Unread] = {}
        self._lists: dict[str, tuple[Name, ...] | Unread] = {}

    def rule(self, text: str) -> tuple[Clause, ...] | Unread:
        """The clauses of a rule, () for none."""
        found = self._rules.get(text)
        if found is None:
            found = _Text(text, self.vocabulary).rule()
            if not isinstance(found, Unread):
                names = (name for clause in found for name in clause.names)
                found = self._on_no_such_side(text, names) or found
            self._rules[text] = found
        return found

    def name_list(self, text: str) -> tuple[Name, ...] | Unread:
        """The names of a plain list of names, () for none."""
        found = self._lists.get(text)
        if found is None:
            found = _Text(text, self.vocabulary).name_list()
            if not isinstance(found, Unread):
                found = self._on_no_such_side(text, found) or found
            self._lists[text] = found
        return found

    def _on_no_such_side(self, text: str, names: Iterable[Name]) -> Unread | None:
        """The fault of a rule that puts a name on a side where the lists do not have it."""
        for name in names:
            known = self.vocabulary.names.get(name.key)
            if known is None or "" in known.sides:
                continue
            for side in name.sides:
                if side not in known.sides and side != EVERY:
                    on = quoted_list(sorted(known.sides), "and")
                    found = (
                        f'the rule "{" ".join(text.split())}" puts "{known.written}" on side '
                        f'"{side}", and it is on {on} only'
                    )
                    return Unread(found, f"write side {quoted_list(sorted(known.sides))}")
        return None


class _Text:
    """One text while it is read. Positions are those of the folded text."""

    def __init__(self, written: str, vocabulary: Vocabulary) -> None:
        lines = [folded(line) for line in re.split(r"[\r\n]+", written)]
        self.written = " ".join(written.split())
        self.text = "\n".join(line for line in lines if line)
        self.flat = self.text.replace("\n", " ")
        self.vocabulary = vocabulary
        self._clauses: dict[int, tuple[Clause, ...] | _Fault] = {}
        self._tails: dict[tuple[int, bool], _Tail | _Fault] = {}

    def rule(self) -> tuple[Clause, ...] | Unread:
        if self.flat.strip(" .") in _NO_RULE:
            return ()
        if len(self.flat) > _LONGEST:
            return self._too_long()
        self._from_the_end()
        found = self.clauses(0)
        return self._unread(found) if isinstance(found, _Fault) else found

    def name_list(self) -> tuple[Name, ...] | Unread:
        """A plain list of names; "after" or "at" in front is allowed."""
        if self.flat.strip(" .") in _NO_RULE:
            return ()
        if len(self.flat) > _LONGEST:
            return self._too_long()
        if self.vocabulary.open:
            known = _Text(self.written, self.vocabulary.closed).name_list()
            return (self._whole(),) if isinstance(known, Unread) else known
        self._from_the_end()
        furthest = _Fault(0, "name")
        starts = [0]
        if match := re.match(r"(?:after|at)\s+", self.flat):
            starts.append(match.end())
        for start in starts:
            for name, end in self._names_at(start):
                tail = self.tail(end, True)
                if isinstance(tail, _Fault):
                    furthest = max(furthest, tail)
                elif not tail[1]:
                    return (name, *tail[0])
                else:
                    furthest = max(furthest, _Fault(end, "name"))
        return self._unread(furthest)

    def _whole(self) -> Name:
        """The whole text as one new name: a cell that holds a name may hold joining words."""
        key = self.flat.rstrip(" .;,")
        return Name(key, self._as_written(0, len(key)), ())

    def _from_the_end(self) -> None:
        """Read a long text from its end, so that no reading has to go deep into it."""
        if len(self.flat) < 300:
            return
        for match in reversed(list(re.finditer(r"(?<![^\W_])\w|(?<=\w)(?!\w)", self.flat))):
            self.tail(match.start(), True)
            self.clauses(match.start())

    def clauses(self, at: int) -> tuple[Clause, ...] | _Fault:
        """The clauses from a position to the end."""
        found = self._clauses.get(at)
        if found is None:
            found = self._clauses[at] = self._read_clauses(at)
        return found

    def _read_clauses(self, at: int) -> tuple[Clause, ...] | _Fault:
        if match := _ANY_TIME.match(self.flat, at):
            tail = self.tail(match.end(), False)
            return tail if isinstance(tail, _Fault) else tail[1]
        head = _HEAD.match(self.flat, at)
        if head is None:
            missing = "duration" if _BAD_DURATION.match(self.flat, at) else "clause"
            return _Fault(at, missing)
        if head["between"]:
            return self._between(head.end())
        word, minutes = _meaning(head)
        if minutes is None:
            return _Fault(at, "duration")
        furthest = _Fault(head.end(), "name")
        for name, end in self._names_at(head.end()):
            tail = self.tail(end, True)
            if not isinstance(tail, _Fault):
                return (Clause(word, (name, *tail[0]), minutes), *tail[1])
            furthest = max(furthest, tail)
        return furthest

    def _between(self, at: int) -> tuple[Clause, ...] | _Fault:
        furthest = _Fault(at, "name")
        for first, end in self._names_at(at):
            join = _AND.match(self.flat, end)
            if join is None:
                furthest = max(furthest, _Fault(end, "and"))
                continue
            furthest = max(furthest, _Fault(join.end(), "name"))
            for second, stop in self._names_at(join.end()):
                tail = self.tail(stop, False)
                if not isinstance(tail, _Fault):
                    both = Clause(Word.AFTER, (first,), 0), Clause(Word.BEFORE, (second,), 0)
                    return (*both, *tail[1])
                furthest = max(furthest, tail)
        return furthest

    def tail(self, at: int, listing: bool) -> _Tail | _Fault:
        """What follows a name: more names of its clause, then further clauses.

        listing  whether the clause can take more names
        """
        found = self._tails.get((at, listing))
        if found is None:
            found = self._tails[at, listing] = self._read_tail(at, listing)
        return found

    def _read_tail(self, at: int, listing: bool) -> _Tail | _Fault:
        if _END.match(self.flat, at):
            return (), ()
        join = _JOIN.match(self.text, at)
        space = re.compile(r"\s+").match(self.flat, at)
        if join is None:
            if space is None:
                return _Fault(at, "join")
            rest = self.clauses(space.end())
            return _Fault(at, "join") if isinstance(rest, _Fault) else ((), rest)
        after = join.end()
        furthest = _Fault(after, "name" if listing and ";" not in join[0] else "clause")
        readings = [self._known_at, self._unknown_at] if listing and ";" not in join[0] else []
        for reading in readings:
            if reading == self._unknown_at:
                rest = self.clauses(after)
                if not isinstance(rest, _Fault):
                    return (), rest
                furthest = max(furthest, rest)
            for name, end in reading(after):
                tail = self.tail(end, True)
                if not isinstance(tail, _Fault):
                    return (name, *tail[0]), tail[1]
                furthest = max(furthest, tail)
        if not readings:
            rest = self.clauses(after)
            return max(furthest, rest) if isinstance(rest, _Fault) else ((), rest)
        return furthest

    # --- names ---

    def _names_at(self, at: int) -> Iterator[tuple[Name, int]]:
        yield from self._known_at(at)
        yield from self._unknown_at(at)

    def _known_at(self, at: int) -> Iterator[tuple[Name, int]]:
        """Known names from a position, longest first, and where each ends, with its side."""
        filler = _FILLER.match(self.flat, at)
        starts = [at] if filler is None or filler.end() == at else [at, filler.end()]
        for start in starts:
            low = bisect.bisect_right(self._ends, start)
            high = bisect.bisect_right(self._ends, start + self.vocabulary.longest)
            for end in reversed(self._ends[low:high]):
                known = self.vocabulary.names.get(self.flat[start:end])
                if known is not None:
                    yield from self._with_sides(self.flat[start:end], known, end)

    def _with_sides(self, key: str, known: Known, end: int) -> Iterator[tuple[Name, int]]:
        match = self.vocabulary.side_pattern.match(self.flat, end)
        if match is not None:
            yield Name(key, known.written, self.vocabulary.sides_said(match[1])), match.end()
            first = re.match(r"[^\s/&,+]+", match[1])
            if first is not None and len(first[0]) < len(match[1]):
                said = self.vocabulary.sides_said(first[0])
                if said:
                    yield Name(key, known.written, said), match.start(1) + first.end()
        yield Name(key, known.written, ()), end

    @cached_property
    def _ends(self) -> list[int]:
        """Where a name can end: not between two letters or digits of one word."""
        text = self.flat
        return [
            end
            for end in range(1, len(text) + 1)
            if not text[end - 1].isspace()
            and (end == len(text) or not (text[end - 1].isalnum() and text[end].isalnum()))
        ]

    def _unknown_at(self, at: int) -> Iterator[tuple[Name, int]]:
        """The words up to the next joining word as a new stage, when new stages are allowed."""
        if not self.vocabulary.open or _HEAD.match(self.flat, at):
            return
        end = self._phrase_end(at)
        key = self.flat[at:end].rstrip(" .")
        if key:
            yield Name(key, self._as_written(at, at + len(key)), ()), end

    def _phrase_end(self, at: int) -> int:
        match = _BREAK.search(self.text, at)
        return match.start() if match else len(self.flat)

    def _as_written(self, start: int, end: int) -> str:
        """Part of the text with its own capitals, where folding did not change its length."""
        if len(self.written) == len(self.flat):
            return self.written[start:end]
        return self.flat[start:end]

    # --- faults ---

    @property
    def _quoted(self) -> str:
        text = self.written if len(self.written) <= 200 else f"{self.written[:160]}…"
        return f'the rule "{text}"'

    def _too_long(self) -> Unread:
        found = f"{self._quoted} has {len(self.flat):,} letters, too many for one rule"
        return Unread(found, "name a stage that stands for all of these, or list fewer names")

    def _unread(self, fault: _Fault) -> Unread:
        rule = self._quoted
        if fault.missing == "duration":
            said = _BAD_DURATION.match(self.flat, fault.at)
            time = f'"{said["said"]}"' if said is not None and said["said"] else "no time"
            found = f"{rule} gives {time} where a time and the name it counts from should stand"
            return Unread(
                found, 'write a number with min, h, d or weeks: "at least 24 h after NAME"'
            )
        if fault.missing == "and":
            return Unread(
                f'{rule} has "between" without two names', 'write "between NAME and NAME"'
            )
        start = fault.at
        if fault.missing == "join":
            start = self._phrase_start(fault.at)
        phrase = self._as_written(start, self._phrase_end(max(start, fault.at))).strip(" .()")
        if not phrase:
            return Unread(f"{rule} breaks off where a name should stand", HOW_TO_WRITE)
        if fault.missing == "clause" and fault.at == 0:
            return Unread(f"{rule} does not begin with a word that says when", HOW_TO_WRITE)
        near = self.vocabulary.nearest(folded(phrase))
        remedy = (
            f"write {quoted_list(near)}" if near else "write a name as the lists have it"
        ) + ", or add it to the stages list"
        shown = phrase if len(phrase) <= 100 else f"{phrase[:80]}…"
        found = f'{rule} names "{shown}", which is neither a stage nor a connection'
        return Unread(found, remedy, folded(phrase))

    def _phrase_start(self, at: int) -> int:
        """Where the words that hold a position begin: behind the last joining word."""
        start = 0
        for match in _JOIN.finditer(self.text, 0, at):
            start = match.end()
        head = _HEAD.match(self.flat, start)
        return head.end() if head and head.end() <= at else start


def _meaning(head: "re.Match[str]") -> tuple[Word, int | None]:
    """What the opening words of a clause ask; None for a time that cannot be read.

    Moments are whole minutes: a least time is rounded up and a greatest time down.
    """
    if head["least"]:
        lag = minutes_of(head["lag"])
        return Word.AT_LEAST, None if lag is None else math.ceil(lag)
    if head["window"]:
        window = minutes_of(head["window"])
        return Word.WITHIN, None if window is None else math.floor(window)
    if head["after"]:
        return Word.AFTER, 0
    return (Word.BEFORE, 0) if head["before"] else (Word.DURING, 0)
