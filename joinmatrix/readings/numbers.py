"""A number as it was written: its exact value, and how far down its last digit goes."""

import re
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

# One number inside a longer text. "135..150" gives 135 and 150; "1 500" and "1'500" one number.
NUMBER = (
    r"[+\-−]?\s?(?:\d+[ \-]\d+/\d+|\d+/\d+|\d{1,3}(?:[ '’]\d{3})+(?:[.,]\d+)?(?!\d)"
    r"|\d+(?:[.,]\d+)*(?:[eE][+\-]?\d+)?|[.,]\d+)"
)
_LONGEST = 40  # characters; no shop measures that finely, and the arithmetic stays small
_FRACTION = re.compile(r"(?:(\d+)[ \-])?(\d+)/(\d+)")
_SPACED = re.compile(r"(?<=\d)[ '’](?=\d{3})")
_DECIMAL = re.compile(r"(\d*)(?:\.(\d+))?(?:[eE]([+\-]?\d+))?")
# "1,500" is one and a half to some shops and fifteen hundred to others.
_UNDECIDED = re.compile(r"[1-9]\d{0,2},\d{3}")


class Unclear(NamedTuple):
    """Text that cannot be understood.

    found   what is there, a clause
    remedy  what to write instead, an instruction
    """

    found: str
    remedy: str


class Number(NamedTuple):
    """A number as written.

    value     exact
    step      one unit of its last written digit, 0.1 for "2.5"; 0 for a fraction such as "1/2"
    text      as written
    relation  ">" or "<" where an instrument only told that it is beyond; else ""
    """

    value: Fraction
    step: Fraction
    text: str
    relation: str = ""


@lru_cache(maxsize=1 << 14)
def read_number(text: str) -> Number | Unclear:
    """The number that a text is: "142", "1,5", "1 500", "-2.5e-3", "1 1/2", "> 500"."""
    plain = text.strip().replace("−", "-")
    relation = ""
    if plain[:1] in ("<", ">", "≥", "≤"):
        relation = ">" if plain[0] in ">≥" else "<"
        plain = plain[1:].lstrip("= ")
    sign = -1 if plain.startswith("-") else 1
    digits = plain.lstrip("+-").strip() if plain[1:2] not in ("+", "-") else plain
    read = (_fraction(digits) or _decimal(digits)) if len(digits) <= _LONGEST else None
    if isinstance(read, Unclear):
        return read
    if read is None:
        return Unclear(f'"{text}" is not a number', "write the number that was read, as 142.5")
    value, step = read
    return Number(sign * value, step, text.strip(), relation)


def _fraction(digits: str) -> tuple[Fraction, Fraction] | None:
    match = _FRACTION.fullmatch(digits)
    if match is None or int(match[3]) == 0:
        return None
    return Fraction(int(match[1] or 0)) + Fraction(int(match[2]), int(match[3])), Fraction(0)


def _decimal(digits: str) -> tuple[Fraction, Fraction] | Unclear | None:
    if _UNDECIDED.fullmatch(digits):
        whole, _, rest = digits.partition(",")
        return Unclear(
            f'"{digits}" can be {whole}.{rest} or {whole}{rest}',
            f"write {whole}.{rest} or {whole}{rest}",
        )
    match = _DECIMAL.fullmatch(_one_mark(_SPACED.sub("", digits)))
    if match is None or not (match[1] or match[2]):
        return None
    places = len(match[2] or "")
    power = int(match[3] or 0)
    if abs(power) > 30:
        return None
    scale = Fraction(10) ** (power - places)
    return int((match[1] or "") + (match[2] or "")) * scale, scale


def _one_mark(digits: str) -> str:
    """The digits with a dot as the only mark; thousands marks taken out."""
    comma, dot = digits.rfind(","), digits.rfind(".")
    if comma >= 0 and dot >= 0:
        thousands, mark = (".", ",") if comma > dot else (",", ".")
        return digits.replace(thousands, "").replace(mark, ".")
    if digits.count(",") > 1:
        return digits.replace(",", "")
    return digits.replace(",", ".")


def shown(value: Fraction, step: Fraction = Fraction(0)) -> str:
    """A worked-out number for a message: to a tenth of the step, else six digits."""
    if step:
        places = 0
        while Fraction(1, 10**places) > step / 5 and places < 9:
            places += 1
        text = f"{float(value):.{places}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    return f"{float(value):.6g}"
