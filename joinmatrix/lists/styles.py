"""Styles of a workbook that make a cell look like something else than it holds."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping, Set
from typing import NamedTuple

from joinmatrix.lists.archive import local_name

_BUILT_IN = {9: "a percentage", 10: "a percentage", 12: "a fraction", 13: "a fraction"}
_IN_QUOTES = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]')


class OddStyles(NamedTuple):
    """What to look for in the cells of a workbook.

    struck   styles with struck-out text
    formats  style -> how a number in it looks ("a percentage"), where that is not its value
    texts    shared texts of which a part is struck out
    """

    struck: Set[int] = frozenset()
    formats: Mapping[int, str] = {}
    texts: Set[int] = frozenset()

    def __bool__(self) -> bool:
        return bool(self.struck or self.formats or self.texts)


NOTHING_ODD = OddStyles()


def odd_styles(styles: ET.Element) -> OddStyles:
    """The styles of a workbook that are worth a word, from its style sheet."""
    struck_fonts = {
        number
        for number, font in enumerate(_children(styles, "fonts", "font"))
        if any(local_name(each) == "strike" and _is_on(each) for each in font)
    }
    shown = dict(_BUILT_IN)
    for each in _children(styles, "numFmts", "numFmt"):
        if look := _look(each.get("formatCode", "")):
            shown[_number(each, "numFmtId")] = look
    struck, formats = set(), {}
    for number, style in enumerate(_children(styles, "cellXfs", "xf")):
        if _number(style, "fontId") in struck_fonts:
            struck.add(number)
        if look := shown.get(_number(style, "numFmtId"), ""):
            formats[number] = look
    return OddStyles(frozenset(struck), formats)


def _look(code: str) -> str:
    """How a number format shows a number: with zeros in front, as a fraction, as a percentage."""
    plain = _IN_QUOTES.sub("", code).split(";")[0].strip()
    if re.fullmatch(r"0{2,}", plain):
        return f"zeros in front (format {plain})"
    if "%" in plain:
        return "a percentage"
    if re.search(r"[?#0]/[?#0\d]", plain):
        return "a fraction"
    return ""


def _children(styles: ET.Element, group: str, name: str) -> Iterator[ET.Element]:
    for each in styles:
        if local_name(each) == group:
            yield from (child for child in each if local_name(child) == name)


def _is_on(element: ET.Element) -> bool:
    return element.get("val", "1") not in ("0", "false")


def _number(element: ET.Element, name: str) -> int:
    text = element.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 10 else 0
