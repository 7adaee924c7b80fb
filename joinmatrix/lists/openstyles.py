"""Styles of an .ods that make a number look like something else than it is."""

from collections.abc import Mapping

_FORMATS = frozenset(("number:number-style", "number:percentage-style", "number:currency-style"))
_MOST_PARENTS = 20  # styles above a style that are looked at; a circle has no end


class OpenStyles:
    """The styles of cells, gathered element by element from the parts that hold them.

    The styles of the content are gathered last: where a name stands in both parts, they count.
    """

    def __init__(self) -> None:
        self._looks: dict[str, str] = {}  # number format -> how it shows a number
        self._branches: dict[str, str] = {}  # number format -> the one for numbers above zero
        self._cells: dict[str, tuple[str, str]] = {}  # style -> its format, and its parent
        self._known: dict[str, str] = {}
        self._format = ""  # the number format that is gathered

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """Take what an element says of a style."""
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
        """How a cell of a style shows a number ("a fraction"), where that is not its value."""
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
