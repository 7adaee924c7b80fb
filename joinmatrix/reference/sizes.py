"""Sizes in different spellings: which are equal, which differ, and which nobody can tell.

A size is a number and a family: -4, 4 mm, AN4 and shell 4 have the same digits and nothing else
in common. Lengths are compared exactly.

    dash size       tube outside diameter in sixteenths of an inch: -6 is 3/8 in (FAA handbook,
                    chapter 7 slides; seen)
    inch and mm     25.4 mm to the inch, exact by definition
    flare threads   `flare_threads.csv`: the thread of a flared fitting of each dash size
    shell letters   `connector_keys.csv`: MIL-DTL-38999 Series III shell 15 is D
    pipe            `nominal_pipe.csv`: DN 25 is NPS 1, called 1 in, and nothing of it measures
                    that; every row is from memory, so it is never more than a note
"""

import re
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.reference.ends import read_end
from joinmatrix.reference.keys import shell_codes
from joinmatrix.reference.marks import plain
from joinmatrix.reference.match import SAME, Comparison, Match
from joinmatrix.reference.tables import rows

MM_PER_INCH = Fraction(254, 10)
_DASH_SOURCE = "FAA handbook, chapter 7 slides"
_INCH_SOURCE = "international inch, exact by definition"


class Size(NamedTuple):
    """What one spelling of a size means.

    family   "dash", "inch", "mm", "thread", "metric thread", "shell", "insert" (a shell with what
             is in it), "gauge", "section", "nominal bore" (DN), "pipe size" (NPS), "number" when
             no family is named, "words" when it is not understood
    text     the size in one spelling: "3/8", "7/16-20"
    length   inches, where the size is a length
    written  decimal places, where it is written as a decimal
    """

    family: str
    text: str
    length: Fraction | None = None
    written: int = 0


class FlareThread(NamedTuple):
    """A row of the table of flared fittings."""

    dash: str
    outside: Fraction
    angle: int
    thread: str
    sure: str
    source: str


_FRACTION = r"(?:(?P<whole>\d+)[ -])?(?P<over>\d+)/(?P<under>[1-9]\d*)"
_DECIMAL = r"(?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+)"
_SERIES = r"(?P<series>unjf|unjc|unj|unf|unc|unef|un)?(?:-?[123][ab])?"
_INCH_MARK = r"(?:in|ins|inch|inches|\")\.?"
_PATTERNS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (family, re.compile(pattern))
    for family, pattern in (
        ("dash", r"(?:dash ?-?|-)0*(?P<dash>\d{1,2})|0*(?P<behind>\d{1,2}) ?dash"),
        ("thread", rf"(?P<thread>#?\d+|\d+/\d+|\d+[- ]\d+/\d+)-(?P<pitch>\d{{1,2}}) ?{_SERIES}"),
        ("metric thread", r"m ?(?P<diameter>\d+(?:[.,]\d+)?)(?: ?x ?(?P<pitch>\d+(?:[.,]\d+)?))?"),
        ("inch", rf"{_FRACTION}(?: ?{_INCH_MARK})?|{_DECIMAL} ?{_INCH_MARK}"),
        ("mm", rf"{_DECIMAL} ?mm"),
        ("section", rf"{_DECIMAL} ?(?:mm\^?2|sq\.? ?mm|qmm)"),
        ("nominal bore", r"dn ?(?P<number>\d+)"),
        ("pipe size", rf"nps ?(?:{_FRACTION}|{_DECIMAL})"),
        ("pipe size", rf"(?:{_FRACTION}|{_DECIMAL})(?: ?{_INCH_MARK})? ?nps"),
        ("gauge", r"awg ?#?(?P<number>\d+)|#?(?P<behind>\d+) ?awg"),
        ("shell", r"shell (?P<number>\d+)|(?:shell )?(?P<code>[a-hj])"),
        ("number", _DECIMAL),
    )
)
# Words that say what is measured, not how large it is: "Ø 6 mm", "3/8 in OD tube", "size 15".
_NOISE = re.compile(r"[ø⌀∅]|\b(?:dia|diameter|o\.?d|tube|pipe|hose|size|nom|nominal)\b\.?")
_OF = re.compile(r"\b(?:pipe|hose|nom)")
_CLASS = re.compile(r"[123][ab](?![^\W_])")
_ALTERNATIVES = re.compile(r" / | = |[()\[\]]|\bor\b")
# Shell and insert: D35 is 15-35. No machine screw has the number of a shell.
_INSERT = re.compile(r"(?:(?P<code>[a-hj])-?|(?P<shell>\d{1,2})-)(?P<layout>\d{2,3})")
_PIPE = ("nominal bore", "pipe size")
_DIGITS = re.compile(r"\d+")
_NUMBER = re.compile(r"\d+(?:[ .,/-]+\d+)*")
# A size with words behind it that no table has: "3/8 in stainless". With the words for the threads
# of pipes it is a name, and measures nothing.
_WITH_WORDS = re.compile(
    rf"(dash ?-?\d{{1,2}}|-\d{{1,2}}|(?:\d+[ -])?\d+/\d+ ?{_INCH_MARK}"
    rf"|(?:\d+(?:[.,]\d+)?|[.,]\d+) ?(?:mm|{_INCH_MARK}))[ ,;]+"
    r"(?!.*\b(?:npt|nptf|nps|bspp?|bspt|rc|g|sch|schedule)\b)[^\d]+"
)


@lru_cache(maxsize=1)
def flare_threads() -> tuple[FlareThread, ...]:
    """The table of flared fittings."""
    return tuple(
        FlareThread(
            row["dash"], _fraction(row["tube_outside_in"]), int(row["angle"]), row["thread"],
            row["sure"], row["source"],
        )
        for row in rows("flare_threads.csv")
    )  # fmt: skip


@lru_cache(maxsize=1 << 14)
def read_sizes(text: str) -> tuple[Size, ...]:
    """What a size cell means; more than one where it says the same in two ways: "-8 (1/2 in)"."""
    said = plain(text)
    parts = (" ".join(_NOISE.sub(" ", part).split()) for part in _ALTERNATIVES.split(said))
    return tuple(_read(part) for part in parts if part) or (Size("words", said),)


def _read(text: str) -> Size:
    if match := _INSERT.fullmatch(text):
        shell = _letters()[match["code"]] if match["code"] else int(match["shell"])
        if shell in _letters().values():
            return Size("insert", f"{shell}-{match['layout']}")
    for family, pattern in _PATTERNS:
        if match := pattern.fullmatch(text):
            return _BUILD[family](match)
    return Size("words", text)


@lru_cache(maxsize=1)
def _letters() -> dict[str, int]:
    return {code.lower(): shell for code, shell in shell_codes().items()}


def _dash(match: re.Match[str]) -> Size:
    number = int(match["dash"] or match["behind"])
    return Size("dash", f"-{number}", Fraction(number, 16))


def _inch(match: re.Match[str]) -> Size:
    if match["decimal"]:
        value, places = _decimal(match["decimal"])
        return Size("inch", f"{float(value):g} in", value, places)
    value = _mixed(match)
    return Size("inch", f"{value} in", value)


def _mm(match: re.Match[str]) -> Size:
    value, places = _decimal(match["decimal"])
    return Size("mm", f"{float(value):g} mm", value / MM_PER_INCH, places)


def _section(match: re.Match[str]) -> Size:
    return Size("section", f"{float(_decimal(match['decimal'])[0]):g} sq mm")


def _thread(match: re.Match[str]) -> Size:
    diameter = match["thread"].lstrip("#").replace(" ", "-")
    return Size("thread", f"{diameter}-{match['pitch']} {match['series'] or ''}".rstrip())


def _metric_thread(match: re.Match[str]) -> Size:
    diameter, _ = _decimal(match["diameter"])
    pitch = f"x{float(_decimal(match['pitch'])[0]):g}" if match["pitch"] else ""
    return Size("metric thread", f"m{float(diameter):g}{pitch}")


def _pipe_size(match: re.Match[str]) -> Size:
    value = _decimal(match["decimal"])[0] if match["decimal"] else _mixed(match)
    whole, over = divmod(value.numerator, value.denominator)
    part = f"{over}/{value.denominator}" if over else ""
    return Size("pipe size", "-".join(filter(None, (str(whole) if whole else "", part))) or "0")


def _shell(match: re.Match[str]) -> Size:
    return Size("shell", str(int(match["number"] or _letters()[match["code"]])))


def _numbered(family: str) -> Callable[[re.Match[str]], Size]:
    def build(match: re.Match[str]) -> Size:
        groups = match.groupdict()
        return Size(family, str(int(groups["number"] or groups["behind"])))

    return build


def _number(match: re.Match[str]) -> Size:
    value, places = _decimal(match["decimal"])
    return Size("number", f"{float(value):g}", None, places)


_BUILD: dict[str, Callable[[re.Match[str]], Size]] = {
    "dash": _dash,
    "inch": _inch,
    "mm": _mm,
    "section": _section,
    "thread": _thread,
    "metric thread": _metric_thread,
    "shell": _shell,
    "nominal bore": _numbered("nominal bore"),
    "pipe size": _pipe_size,
    "gauge": _numbered("gauge"),
    "number": _number,
}


def _decimal(text: str) -> tuple[Fraction, int]:
    """The value of "9.5" or "9,5", and its decimal places."""
    pointed = text.replace(",", ".")
    return Fraction(pointed), len(pointed.partition(".")[2])


def _mixed(match: re.Match[str]) -> Fraction:
    """The value of a match of `_FRACTION`."""
    return int(match["whole"] or 0) + Fraction(int(match["over"]), int(match["under"]))


def _fraction(text: str) -> Fraction:
    """The value of "1-1/4", "3/8" or "2"."""
    whole, _, part = text.rpartition("-")
    return int(whole or 0) + Fraction(part)


@lru_cache(maxsize=1 << 14)
def canonical(text: str) -> str:
    """One text for all spellings of a size that are exactly equal.

    A cell that says it in two ways says two things, unless they are equal or one is the other in
    mm, rounded: "-8 (1/2 in)" is not "-8 (5/8 in)". What the size is of, and the class of a thread,
    count where they are written: 1/2 in of a pipe is not 1/2 in of a tube.
    """
    said = read_sizes(text)
    exact = [size for size in said if size.length is not None and size.family != "mm"]
    names = {
        _name(size)
        for size in said
        if size.family != "mm" or not size.written or not any(_rounds_to(x, size) for x in exact)
    }
    plainly = plain(text)
    of = set() if all(size.family in _PIPE for size in said) else set(_OF.findall(plainly))
    classes = _CLASS.findall(plainly) if any(size.family == "thread" for size in said) else ()
    return " ".join((" / ".join(sorted(names)), *sorted(of), *classes))


def _name(size: Size) -> str:
    if size.length is not None:
        return f"{size.length} in"
    if size.family == "number" and size.text.isdigit() and int(size.text) in _letters().values():
        return f"shell {size.text}"
    return f"{size.family} {size.text}"


def shell_of(text: str) -> int | None:
    """The shell size of a connector, "15", "D", "15-35" or "D35"; None for other sizes."""
    first = read_sizes(text)[0]
    if first.family not in ("shell", "insert", "number"):
        return None
    number = first.text.partition("-")[0]
    shells = set(shell_codes().values())
    return int(number) if number.isdigit() and int(number) in shells else None


@lru_cache(maxsize=1 << 14)
def compare(one: str, other: str, end: str = "") -> Comparison:
    """Whether two sizes are equal.

    end  the end form of the connection: on a flare, a dash size and a thread can be one size
    """
    if plain(one) == plain(other):
        return SAME
    found = [
        _compare(ours, theirs, end) for ours in _understood(one) for theirs in _understood(other)
    ]
    return min(found, key=lambda each: list(Match).index(each.match))


def _understood(text: str) -> tuple[Size, ...]:
    """What a size cell means, without words beside it that no table has: "-6 (alloy)" is -6."""
    said = read_sizes(text)
    return tuple(size for size in said if size.family != "words") or said


def _compare(ours: Size, theirs: Size, end: str) -> Comparison:
    if ours.family == theirs.family:
        return _in_family(ours, theirs)
    if "words" in (ours.family, theirs.family):
        return _in_words(ours, theirs)
    if ours.length is not None and theirs.length is not None:
        return _lengths(ours, theirs)
    for size, facing in ((ours, theirs), (theirs, ours)):
        if size.family == "number" and facing.family != "insert":
            return _without_family(size, facing)
        if size.family == "thread" and facing.length is not None:
            return _flare_thread(size, facing, end)
        if size.family in _PIPE and (facing.length is not None or facing.family in _PIPE):
            return _nominal_pipe(size, facing)
        if size.family == "insert" and facing.family in ("shell", "number"):
            return _shell_alone(size, facing)
    if {ours.family, theirs.family} == {"gauge", "section"}:
        return Comparison(Match.UNSURE, "no table has wire gauges beside cross sections")
    if {ours.family, theirs.family} & {"insert", "gauge", "section", *_PIPE}:
        return _by_digits(ours, theirs)
    return _different_families(ours, theirs)


def _in_family(ours: Size, theirs: Size) -> Comparison:
    if ours.family == "words":
        return _in_words(ours, theirs)
    if ours.text == theirs.text:
        return SAME
    if ours.length is not None and ours.length == theirs.length:
        return SAME
    if ours.family == "thread" and ours.text.split()[0] == theirs.text.split()[0]:
        return Comparison(Match.UNSURE, "the threads agree and their series is not the same")
    if ours.family == "metric thread" and ours.text.split("x")[0] == theirs.text.split("x")[0]:
        if "x" not in ours.text or "x" not in theirs.text:
            return Comparison(Match.UNSURE, "only one of them gives the pitch")
        return Comparison(Match.DIFFERS, "the pitches differ")
    return Comparison(Match.DIFFERS)


def _lengths(ours: Size, theirs: Size) -> Comparison:
    """Two lengths of different families."""
    if ours.length == theirs.length:
        dash = "dash" in (ours.family, theirs.family)
        why = "a dash size is sixteenths of an inch" if dash else "25.4 mm is an inch"
        return Comparison(Match.FITS, why, _DASH_SOURCE if dash else _INCH_SOURCE, "seen")
    for size, facing in ((ours, theirs), (theirs, ours)):
        if size.family == "mm" and size.written and _rounds_to(facing, size):
            return Comparison(Match.UNSURE, "they are equal only once they are rounded")
    if _digits(ours) == _digits(theirs):
        return _different_families(ours, theirs)
    return Comparison(Match.DIFFERS, f"{_in_inches(ours)} and {_in_inches(theirs)}")


def _rounds_to(size: Size, metric: Size) -> bool:
    """Whether a length comes to the one in mm at the decimal places that are written."""
    if size.length is None or metric.length is None:
        return False
    step = Fraction(1, 10**metric.written)
    return abs(size.length - metric.length) * MM_PER_INCH <= step / 2


def _without_family(size: Size, facing: Size) -> Comparison:
    """A bare number: it is equal to what has its digits, or to what it measures in inch or mm."""
    value = Fraction(size.text)
    unsure = Comparison(Match.UNSURE, f"{_plain(size)} does not say what it measures")
    if facing.length is not None:
        could_be = {value, value / MM_PER_INCH, value / 16}
        return unsure if facing.length in could_be else Comparison(Match.DIFFERS)
    if facing.family in _PIPE:
        called = _called(facing)
        names = [called, Fraction(_nominal_pipes()[called]["dn"])] if called is not None else []
        if value in names:
            return unsure
    if facing.family == "shell":
        return SAME if facing.text == size.text else Comparison(Match.DIFFERS)
    return unsure if _digits(size) == _digits(facing) else Comparison(Match.DIFFERS)


def _shell_alone(insert: Size, facing: Size) -> Comparison:
    """A shell with its insert against a shell, or against a number that may be either."""
    shell, _, layout = insert.text.partition("-")
    if facing.text == shell:
        return Comparison(Match.UNSURE, "only one of them gives the insert")
    if facing.family == "number" and facing.text == layout:
        return Comparison(Match.UNSURE, f"{facing.text} does not say what it measures")
    return Comparison(Match.DIFFERS, f"the shell of {insert.text} is {shell}")


def _flare_thread(thread: Size, facing: Size, end: str) -> Comparison:
    """A thread against the size of the tube: one size on a flared fitting, if the table has it."""
    named = thread.text.split()[0]
    rows_of = [
        row for row in flare_threads() if row.outside == facing.length and row.thread == named
    ]
    if not rows_of:
        return _different_families(thread, facing)
    flare = read_end(end).forms.get("tube")
    for row in rows_of:
        if flare is not None and flare.name == f"flare {row.angle}":
            why = f"a {row.dash} fitting of {row.angle} degrees has the thread {row.thread}"
            sure = Match.UNSURE if row.sure == "memory" else Match.FITS
            return Comparison(sure, why, row.source, row.sure)
    row = rows_of[0]
    return Comparison(
        Match.UNSURE,
        f"{row.thread} is the thread of a {row.dash} flared fitting, and no end says it is one",
        row.source,
        row.sure,
    )


@lru_cache(maxsize=1)
def _nominal_pipes() -> Mapping[Fraction, Mapping[str, str]]:
    """The table of nominal pipe sizes by what they are called in inches."""
    return {_fraction(row["nominal_in"]): row for row in rows("nominal_pipe.csv")}


def _nominal_pipe(pipe: Size, facing: Size) -> Comparison:
    """The name of a pipe against another name or a length, which a pipe has only by name.

    Pipes differ where the table has both names; a length in mm is none, whatever its digits.
    """
    ours, theirs = _called(pipe), _called(facing)
    if ours is None or theirs is None:
        return Comparison(Match.UNSURE, "the table of pipe sizes has not both of these names")
    row = _nominal_pipes()[ours]
    if ours != theirs:
        return Comparison(Match.DIFFERS, "", row["source"], row["sure"])
    if facing.family in _PIPE:
        why = f"DN {row['dn']} is NPS {row['nominal_in']}"
    else:
        why = (
            f"{_pipe_name(pipe)} is called {row['nominal_in']} in, and nothing of it measures that"
        )
    return Comparison(Match.UNSURE, why, row["source"], row["sure"])


def _called(size: Size) -> Fraction | None:
    """What a pipe of this size is called in inches; None for what is no row of the table."""
    if size.family == "nominal bore":
        return next(
            (name for name, row in _nominal_pipes().items() if row["dn"] == size.text), None
        )
    name = _fraction(size.text) if size.family == "pipe size" else size.length
    return name if name in _nominal_pipes() and size.family != "mm" else None


def _pipe_name(pipe: Size) -> str:
    return f"{'DN' if pipe.family == 'nominal bore' else 'NPS'} {pipe.text}"


def _in_words(ours: Size, theirs: Size) -> Comparison:
    """Sizes of which one is in words that no table has; its digits alone prove nothing.

    They differ where the same words have other numbers (AN-6, AN-8), where neither has a number,
    and where the words stand behind a size that is understood.
    """
    if ours.text == theirs.text:
        return SAME
    unsure = Comparison(Match.UNSURE, "the digits are the same and the words are not")
    if ours.family == theirs.family and _frame(ours) == _frame(theirs):
        return unsure if _values(ours) == _values(theirs) else Comparison(Match.DIFFERS)
    if not _digits(ours) and not _digits(theirs):
        return Comparison(Match.DIFFERS)
    mine, facing = _before_words(ours), _before_words(theirs)
    if mine is not None and facing is not None:
        found = _compare(mine, facing, "")
        if found.match is Match.DIFFERS:
            return found
    if _digits(ours) == _digits(theirs):
        return unsure
    return Comparison(Match.UNSURE, "no table has the words of the one")


def _frame(size: Size) -> str:
    """The words of a size with one mark for each number."""
    return _NUMBER.sub("#", size.text).replace(" ", "")


def _values(size: Size) -> list[Fraction | str]:
    """The numbers in words, "1 1/2" and "1.5" as one."""
    return [_value(number) for number in _NUMBER.findall(size.text)]


def _value(number: str) -> Fraction | str:
    if re.fullmatch(_DECIMAL, number):
        return _decimal(number)[0]
    if match := re.fullmatch(_FRACTION, number):
        return _mixed(match)
    return number


def _before_words(size: Size) -> Size | None:
    """The size that stands before words, or the size itself; None where there is none."""
    if size.family != "words":
        return size
    match = _WITH_WORDS.fullmatch(size.text)
    return _read(match[1]) if match else None


def _by_digits(ours: Size, theirs: Size) -> Comparison:
    """Sizes of families that no table has side by side: with the same digits they may be one."""
    if _digits(ours) and _digits(ours) == _digits(theirs):
        return Comparison(Match.UNSURE, "the digits are the same and the words are not")
    return Comparison(Match.DIFFERS)


def _different_families(ours: Size, theirs: Size) -> Comparison:
    if _digits(ours) == _digits(theirs):
        why = "the digits are the same, and a size is nothing without its family: "
    else:
        why = ""
    return Comparison(Match.DIFFERS, f"{why}{_named(ours)} and {_named(theirs)}")


def _digits(size: Size) -> Iterable[str]:
    return [digits.lstrip("0") or "0" for digits in _DIGITS.findall(size.text)]


def _named(size: Size) -> str:
    kinds = {"dash": "is a dash size", "inch": "is in inches", "mm": "is in mm"}
    return f"{_plain(size)} {kinds.get(size.family, f'is a {size.family}')}"


def _plain(size: Size) -> str:
    return size.text.removesuffix(" in").removesuffix(" mm")


def _in_inches(size: Size) -> str:
    return f"{size.text.removesuffix(' in')} is {float(size.length or 0):.4g} in"
