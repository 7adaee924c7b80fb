"""Side words in names and texts: where they stand, and what a text says once they are swapped.

A text is cut into runs of letters and of digits, at punctuation and where letters meet digits:
"HYD-12L" is HYD, 12, L. Only a whole run can be a side word, so the "l" in "fuel" never is one.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import chain

from joinmatrix.names import folded

# What stands for a side word in a text, once it is known to be one.
OWN = "\x01"  # the side that the text itself is on
OTHER = "\x02"  # another of the alike sides

# Nobody writes these for anything but a side. "port" is also an opening, and a single letter
# is often the name of something, so those mean a side only when the other text agrees.
_PLAIN_WORDS = {
    "L": ("left hand", "left-hand", "left", "lhs", "lh"),
    "R": ("right hand", "right-hand", "right", "starboard", "stbd", "rhs", "rh"),
}
_DOUBTFUL_WORDS = {"L": ("port", "l"), "R": ("r",)}
# "right angle fitting" and "left-hand thread" name no side of the assembly.
_HAND = r"(?:[ -]*hand(?:ed)?)?"
_SHAPE = r"[ -]*(?:angled?|thread|threads|threaded|turn|way)\b"
_NO_SIDE = rf"(?!{_HAND}{_SHAPE})"

_ALIKE_DIGITS = str.maketrans("123456789", "000000000")
_LETTER = r"[^\W\d_]"
_NUMBER = r"\d+(?:[.,/]\d+)*"
# A number with its unit of time is one word: "30 min" is not "30 h".
_WORDS = re.compile(
    rf"[{OWN}{OTHER}]|\d+(?:[.,]\d+)?"
    r"(?: *(?:minutes?|mins?|hours?|hrs?|days?|h|d)\b|(?:[.,/]\d+)*)"
    rf"|{_LETTER}+"
)
_WORDS_AND_ENDS = re.compile(rf"\n|{_WORDS.pattern}")
_EXACT = re.compile(rf"{_NUMBER}|{_LETTER}+|[^\w\s]|_")
_CUT = re.compile(rf"\d+|{_LETTER}+|[^\w\s]|_|\s+")


class SideWords:
    """The words that mean each of a set of alike sides.

    alike    the labels, in their order
    letters  False when the labels are numbers, which mean many other things too
    words    label -> the single-run words that can mean it, folded
    """

    def __init__(self, alike: tuple[str, ...]) -> None:
        self.alike = alike
        usual = set(alike) <= set(_PLAIN_WORDS)
        plain = {label: _PLAIN_WORDS[label] if usual else () for label in alike}
        marks = distinguishing(alike)
        doubtful = {label: _DOUBTFUL_WORDS[label] if usual else (marks[label],) for label in alike}
        self.letters = not any(mark.isdigit() for mark in marks.values())
        self.words = {
            label: frozenset(word for word in (*plain[label], *doubtful[label]) if word.isalnum())
            for label in alike
        }
        self._any = {label: _whole_runs((*plain[label], *doubtful[label])) for label in alike}
        self._letters = {label: _shortest(self.words[label]) for label in alike}
        self._plain = {label: _whole_runs(plain[label]) for label in alike if plain[label]}
        anything = "|".join(each.pattern for each in self._any.values())
        self._anything = re.compile(anything, re.IGNORECASE)
        self._label_of = {word: label for label in alike for word in self.words[label]}
        names = "|".join(map(re.escape, self._label_of))
        hand = rf"(?<!{_LETTER})(?P<word>{names})(?!{_LETTER}){_HAND}(?={_SHAPE})"
        self._shape = re.compile(hand) if names and self.letters else None
        self._digits_say = any(map(str.isdigit, "".join(chain.from_iterable(doubtful.values()))))

    def marked(self, names: Sequence[str], side: str) -> list[str]:
        """Folded names with every word of their own side marked; many at once costs one pass."""
        return self.marked_text("\n".join(names), side).split("\n") if names else []

    def marked_text(self, text: str, side: str) -> str:
        """One folded text with every word of its own side marked."""
        # The centre line has no words to swap. To look for the bare letters is a tenth of the work.
        if not any(letters in text for letters in self._letters.get(side, ())):
            return text
        return self._any[side].sub(OWN, text)

    def plainly_marked(self, name: str, side: str) -> str:
        """A folded name with only those words marked that mean nothing but its own side."""
        pattern = self._plain.get(side)
        return pattern.sub(OWN, name) if pattern else name

    def marked_one_by_one(self, name: str, side: str) -> list[tuple[int, str]]:
        """The name with one own-side word marked at a time, and the run that each one is."""
        runs = _CUT.findall(name)
        words = self.words[side]
        return [
            (position, "".join((*runs[:position], OWN, *runs[position + 1 :])))
            for position, run in enumerate(runs)
            if (run.lstrip("0") if run.isdigit() else run) in words
        ]

    def resolved(self, text: str, side: str) -> str:
        """A folded text in which plain side words are marked as its own or another side."""
        for label, pattern in self._plain.items():
            text = pattern.sub(OWN if label == side else OTHER, text)
        return text

    def shapes_kept(self, text: str) -> str:
        """A folded text in which the hand of a thread is a word of its own, which is no side."""
        if self._shape is None:
            return text
        return self._shape.sub(lambda hand: f"{self._label_of[hand['word']]}handed".lower(), text)

    def mentions(self, text: str) -> bool:
        """Whether a text has any word that can mean one of the sides."""
        return self._anything.search(text) is not None

    def shape(self, text: str) -> str:
        """The text with one digit for all, where none can mean a side; texts of one shape mention
        the same.
        """
        return text if self._digits_say else text.translate(_ALIKE_DIGITS)

    def trailing(self, name: str) -> tuple[str, str] | None:
        """The name and the label of the side word at its end: "gear down LH" -> gear down, L."""
        found = _LAST_RUN.fullmatch(name)
        if found is None:
            return None
        label = self._label_of.get(found["word"])
        return (found["base"], label) if label else None


# A word of its own: the l of "gear down l" and of "gear down (l)", not that of "hyd-l".
_LAST_RUN = re.compile(rf"(?P<base>.*[^\W_])[\s,]*[\s(](?P<word>{_LETTER}+|\d+)[)\s]*")


@lru_cache(maxsize=64)
def side_words(alike: tuple[str, ...]) -> SideWords:
    """The side words of a set of alike sides."""
    return SideWords(alike)


def distinguishing(labels: Sequence[str]) -> dict[str, str]:
    """The part of each label that tells it from the others, folded: "blade 1" -> "1"."""
    runs = {label: [run for run in _CUT.findall(folded(label)) if run.strip()] for label in labels}
    lengths = {len(each) for each in runs.values()}
    if lengths != {1} and len(lengths) == 1:
        columns = list(zip(*runs.values(), strict=True))
        different = [number for number, column in enumerate(columns) if len(set(column)) > 1]
        if len(different) == 1:
            return {label: each[different[0]] for label, each in runs.items()}
    return {label: folded(label) for label in labels}


def words_of(text: str) -> tuple[str, ...]:
    """The words and numbers of a folded text; punctuation between them says nothing."""
    return tuple(_WORDS.findall(text))


def words_of_lines(text: str) -> Iterator[tuple[str, ...]]:
    """The words of each line of a folded text; many lines cost one pass."""
    found = _WORDS_AND_ENDS.findall(f"{text}\n")
    start = 0
    for _ in range(text.count("\n") + 1):
        end = found.index("\n", start)
        yield tuple(found[start:end])
        start = end + 1


def exact_words_of(text: str) -> tuple[str, ...]:
    """The words, numbers and marks of a folded text: in a size, "-" and "x" say something."""
    return tuple(_EXACT.findall(text))


def _shortest(words: Collection[str]) -> tuple[str, ...]:
    """Those words without which none of the words is in a text: "l" is in "left" and "lh"."""
    return tuple(word for word in words if not any(other in word for other in {*words} - {word}))


def _whole_runs(words: Iterable[str]) -> re.Pattern[str]:
    """Matches any of the words where it is a whole run of letters or of digits."""
    numbers = [re.escape(word) for word in words if word.isdigit()]
    texts = [re.escape(word) for word in sorted(words, key=len, reverse=True) if not word.isdigit()]
    either = []
    if texts:
        either.append(rf"(?<!{_LETTER})(?:{'|'.join(texts)})(?!{_LETTER}){_NO_SIDE}")
    if numbers:
        either.append(rf"(?<!\d)0*(?:{'|'.join(numbers)})(?!\d)")
    return re.compile("|".join(either))
