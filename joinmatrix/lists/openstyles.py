"""Styles of an .ods that make a number look like another, or strike text out."""

from collections.abc import Iterator, Mapping
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
        self._parents: dict[Style, Style] = {}
        self._lines: dict[Style, bool] = {}  # whether a style draws a line through its text
        self._formats: dict[Style, str] = {}  # style -> its number format
        self._numbers = _NumberFormats()
        self._looks: dict[str, str] = {}

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """Take what an element says of a style."""
        self._numbers.start(name, attributes)
        if name in _STYLES:
            family = attributes.get("style:family", "")
            self.style = Style(family, attributes.get("style:name", ""))
            self._lines.pop(self.style, None)
            parent = attributes.get("style:parent-style-name", "")
            self._parents[self.style] = Style(family, parent)
            if name == "style:style":
                self._formats[self.style] = attributes.get("style:data-style-name", "")
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
        if style not in self._looks:
            chain = self._chain(Style(CELL, style))
            found = (self._formats[each] for each in chain if self._formats.get(each))
            number_format = next(found, "")
            self._looks[style] = self._numbers.look(number_format) if number_format else ""
        return self._looks[style]

    def struck(self) -> frozenset[Style]:
        """The styles that strike text out."""
        if not any(self._lines.values()):
            return frozenset()
        return frozenset(filter(self._is_struck, self._parents))

    def _is_struck(self, style: Style) -> bool:
        return next(
            (self._lines[each] for each in self._chain(style) if each in self._lines), False
        )

    def _chain(self, style: Style) -> Iterator[Style]:
        """A style and those that it is made from, down to what holds where none is named."""
        for _ in range(_MOST_PARENTS):
            yield style
            style = self._parents.get(style, Style(style.family, ""))


class _NumberFormats:
    """How the formats of numbers show them, gathered in the same way."""

    def __init__(self) -> None:
        self._looks: dict[str, str] = {}  # number format -> how it shows a number
        self._branches: dict[str, str] = {}  # number format -> the one for numbers above zero
        self._format = ""  # the number format that is gathered

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        if name in _FORMATS:
            self._format = attributes.get("style:name", "")
            percent = name == "number:percentage-style"
            self._looks[self._format] = "a percentage" if percent else ""
            self._branches.pop(self._format, None)
        elif name == "style:style":
            self._format = ""
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

    def look(self, number_format: str) -> str:
        return self._looks.get(self._branches.get(number_format, number_format), "")


def _zeros(attributes: Mapping[str, str]) -> str:
    digits = attributes.get("number:min-integer-digits", "")
    places = attributes.get("number:decimal-places", "0")
    if not (digits.isdecimal() and digits.isascii() and len(digits) < 3 and int(digits) > 1):
        return ""
    plain = places == "0" and attributes.get("number:grouping") != "true"
    return f"zeros in front (format {'0' * int(digits)})" if plain else ""
