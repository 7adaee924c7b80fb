"""Names that may be one name spelt in two ways."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator

from joinmatrix.lists import words

_DIGITS = re.compile(r"\d+")
_SHORTEST = 4  # letters; a shorter word that differs is another word ("on", "off", "up")


def twins(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Pairs of folded names that differ by one letter, or by two when they are long.

    Differences in digits, side words and single letters are none: "step 1" and "step 2" are two
    steps. Names are compared only where they share a third, so the work does not grow with the
    square of their number: of two names at most two letters apart, one third stands unchanged.
    """
    by_core: defaultdict[str, list[str]] = defaultdict(list)
    for name in sorted(set(names)):
        core = _core(name)
        if len(core) >= _SHORTEST:
            by_core[core].append(name)
    seen: set[tuple[str, str]] = set()
    shared: defaultdict[tuple[int, str], list[str]] = defaultdict(list)
    for core in by_core:
        for number, part in enumerate(_thirds(core)):
            shared[number, part].append(core)
    for core in by_core:
        for other in _sharing(core, shared):
            pair = (core, other) if core < other else (other, core)
            if core != other and pair not in seen:
                seen.add(pair)
                if _one_word_for_another(*pair):
                    yield by_core[pair[0]][0], by_core[pair[1]][0]


def _core(name: str) -> str:
    """A name without digits, side words and single letters."""
    kept = [
        word
        for word in _DIGITS.sub(" ", name).split()
        if len(word) > 1 and word not in words.SIDE_WORDS
    ]
    return " ".join(kept)


def _thirds(core: str) -> tuple[str, str, str]:
    third = len(core) // 3
    return core[:third], core[third : 2 * third], core[2 * third :]


def _sharing(core: str, shared: dict[tuple[int, str], list[str]]) -> Iterator[str]:
    """Names with a third that stands in this one, moved by two letters at most."""
    for length in range(max(len(core) - 2, _SHORTEST), len(core) + 3):
        third = length // 3
        spans = ((0, third), (third, 2 * third), (2 * third, length))
        for number, (start, end) in enumerate(spans):
            for moved in range(-2, 3):
                if start + moved < 0:
                    continue
                part = core[start + moved : end + moved]
                if len(part) == end - start:
                    yield from (
                        other for other in shared.get((number, part), ()) if len(other) == length
                    )


def _one_word_for_another(one: str, other: str) -> bool:
    """Near enough to be one name, and the letters that differ stand in words of some length."""
    most = 2 if min(len(one), len(other)) >= 8 else 1
    if _letters_apart(one, other, most) > most:
        return False
    mine, theirs = one.split(), other.split()
    if len(mine) != len(theirs):
        return True
    return all(
        max(len(left), len(right)) >= _SHORTEST
        for left, right in zip(mine, theirs, strict=True)
        if left != right
    )


def _letters_apart(one: str, other: str, most: int) -> int:
    """Letters to add, drop or change to make one text the other; `most` + 1 for more.

    source  Wagner and Fischer, "The string-to-string correction problem", J. ACM 21 (1974)
    """
    if abs(len(one) - len(other)) > most:
        return most + 1
    row = list(range(len(other) + 1))
    for number, letter in enumerate(one, 1):
        before, row = row, [number]
        for place, each in enumerate(other, 1):
            row.append(
                min(before[place] + 1, row[place - 1] + 1, before[place - 1] + (letter != each))
            )
        if min(row) > most:
            return most + 1
    return row[-1]
