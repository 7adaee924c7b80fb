"""The names that rules can use, and the side words that may stand behind them."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from joinmatrix.lists import words
from joinmatrix.names import Nearest, folded

EVERY = "*"  # stands for every side on which a name is listed


class Name(NamedTuple):
    """A stage or connection as a rule names it.

    key      folded name
    written  as the lists write it
    sides    the sides that the rule itself says; () when it says none
    """

    key: str
    written: str
    sides: tuple[str, ...]

    def __str__(self) -> str:
        on = " and ".join(self.sides)
        return f"{self.written} {on}" if self.sides and EVERY not in self.sides else self.written


class Known(NamedTuple):
    """A name that rules can use, as first written, and the sides on which it is ("" for none)."""

    written: str
    sides: frozenset[str]


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """The names that rules can use.

    names   folded name -> what it is
    labels  every side label of the assembly
    open    unknown names are stages: there is no stages list to say which there are
    """

    names: Mapping[str, Known]
    labels: tuple[str, ...] = ("L", "R", "C")
    open: bool = False

    @cached_property
    def closed(self) -> "Vocabulary":
        """The same names, and no others."""
        return replace(self, open=False)

    @cached_property
    def longest(self) -> int:
        """Letters of the longest name."""
        return max(map(len, self.names), default=0)

    @cached_property
    def side_of_word(self) -> Mapping[str, str]:
        """Folded side words and labels, and the label that each of them means."""
        spelt = {word: label for word, label in words.SIDE_WORDS.items() if label in self.labels}
        spelt.update(dict.fromkeys(words.EVERY_SIDE, EVERY))
        spelt.update({folded(label): label for label in self.labels if label})
        return spelt

    @cached_property
    def side_pattern(self) -> "re.Pattern[str]":
        """A side, or several ("L and R", "L/R"), behind a name."""
        either = "|".join(map(re.escape, sorted(self.side_of_word, key=len, reverse=True)))
        one = rf"(?:{either})(?![^\s,;&/)\]])"
        return re.compile(rf"\s+[(\[]?({one}(?:\s*(?:[/&,+]|\band\b)\s*{one})*)[)\]]?")

    def sides_said(self, text: str) -> tuple[str, ...]:
        """The labels that side words behind a name mean, in order of writing."""
        found = []
        for part in re.split(r"\s*[/&,+]\s*|\s+and\s+", text):
            label = self.side_of_word.get(part)
            if label is not None:
                found.append(label)
        return tuple(dict.fromkeys(found))

    def side_at_end(self, name: str) -> tuple[str, tuple[str, ...]] | None:
        """A folded name without the side words at its end, and their labels; None without any."""
        for match in self.side_pattern.finditer(name):
            if match.end() == len(name):
                said = tuple(side for side in self.sides_said(match[1]) if side != EVERY)
                return (name[: match.start()], said) if said else None
        return None

    @cached_property
    def _nearest(self) -> Nearest:
        return Nearest(self.names)

    def nearest(self, name: str) -> list[str]:
        """The known names most like one that is not known, as written; best first."""
        return [self.names[each].written for each in self._nearest(name)]


def plain_vocabulary(names: Iterable[str], *, unknown_are_stages: bool = False) -> Vocabulary:
    """A vocabulary of names that are once for all; for trying rules out."""
    known = {folded(name): Known(name, frozenset(("",))) for name in names}
    return Vocabulary(known, open=unknown_are_stages)
