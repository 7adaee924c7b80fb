"""Styles of an .ods that make a number look like another, or strike text out."""

from collections.abc import Mapping
from typing import NamedTuple

CELL, PARAGRAPH, SPAN = "table-cell", "paragraph", "text"

_FORMATS = frozenset(("number:number-style", "number:percentage-style", "number:currency-style"))
_STYLES = frozenset(("style:style", "style:default-style"))
_LINE = ("text-line-through-style", "text-line-through-type")
_MOST_PARENTS = 64  # styles above a style that are looked at; a circle has no end


class Style(NamedTuple):
    """A style; a name is unique in its family, and "" is what holds where no style is named."""

    family: str
    name: str


class OpenStyles:
    """The styles, gathered element by element from the parts that hold them.

    The styles of the content are gathered last: where a name stands in both parts, they count.

    style  the style that is gathered, None outside of styles
    """

    def __init__(self) -> None:
        self.style: Style | None = None
        self._looks = _Looks()
        self._parents: dict[Style, Style] = {}
        self._lines: dict[Style, bool] = {}

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """Take what an element says of a style."""
        self._looks.start(name, attributes)
        if name in _STYLES:
            family = attributes.get("style:family", "")
            self.style = Style(family, attributes.get("style:name", ""))
            self._lines.pop(self.style, None)
            parent = attributes.get("style:parent-style-name", "")
            self._parents[self.style] = Style(family, parent)
        elif name == "style:text-properties" and self.style is not None:
            drawn, kind = (attributes.get(f"style:{each}", "") for each in _LINE)
            if drawn or kind:
                self._lines[self.style] = "none" not in (drawn, kind)

    def end(self, name: str) -> None:
        """Leave an element: formats of numbers have text properties as well."""
        if name in _STYLES:
            self.style = None

    def look(self, style: str) -> str:
        """How a cell of a style shows a number ("a fraction"), where that is not its value."""
        return self._looks.look(style)

    def struck(self) -> frozenset[Style]:
        """The styles that strike text out."""
        if not any(self._lines.values()):
            return frozenset()
        return frozenset(filter(self._is_struck, self._parents))

    def _is_struck(self, style: Style) -> bool:
        for _ in range(_MOST_PARENTS):
            if style in self._lines:
                return self._lines[style]
            style = self._parents.get(style, Style(style.family, ""))
        return False


class _Looks:
    """The formats of numbers, and which style of cells has which."""

    def __init__(self) -> None:
        self._looks: dict[str, str] = {}  # number format -> how it shows a number
        self._branches: dict[str, str] = {}  # number format -> the one for numbers above zero
        self._cells: dict[str, tuple[str, str]] = {}  # style -> its format, and its parent
        self._known: dict[str, str] = {}
        self._format = ""  # the number format that is gathered

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if name in _FORMATS:
            self._format = attributes.get("style:name", "")
            percent = name == "number:percentage-style"
            self._looks[self._format] = "a percentage" if percent else ""
            self._branches.pop(self._format, None)
        elif name == "style:style":
            self._format = ""
            if attributes.get("style:family") == "table-cell":
                self._cells[attributes.get("style:name", "")] = (
                    attributes.get("style:data-style-name", ""),
                    attributes.get("style:parent-style-name", ""),
                )
        elif not self._format:
            return
        elif name == "number:number":
            if not self._looks[self._format]:
                self._looks[self._format] = _zeros(attributes)
        elif name == "number:fraction":
            self._looks[self._format] = "a fraction"
        elif name == "number:embedded-text":
            self._looks[self._format] = ""  # 00-07 is meant to look so
        elif name == "style:map":
            self._branches.setdefault(self._format, attributes.get("style:apply-style-name", ""))

    def look(self, style: str) -> str:
        if style not in self._known:
            self._known[style] = self._worked_out(style)
        return self._known[style]

    def _worked_out(self, style: str) -> str:
        for _ in range(_MOST_PARENTS):
            number_format, parent = self._cells.get(style, ("", ""))
            if number_format:
                return self._looks.get(self._branches.get(number_format, number_format), "")
            style = parent
        return ""


def _zeros(attributes: Mapping[str, str]) -> str:
    digits = attributes.get("number:min-integer-digits", "")
    places = attributes.get("number:decimal-places", "0")
    if not (digits.isdecimal() and digits.isascii() and len(digits) < 3 and int(digits) > 1):
        return ""
    plain = places == "0" and attributes.get("number:grouping") != "true"
    return f"zeros in front (format {'0' * int(digits)})" if plain else ""
