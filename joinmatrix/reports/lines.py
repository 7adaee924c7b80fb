"""Lines of a terminal: spans of text with a style, marks that differ by shape and by letter.

Lines are laid out here to the width they get, and handed to the console as ready segments:
nothing in them is read as markup, nothing is wrapped or coloured a second time.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

from rich.console import Console
from rich.segment import Segment, Segments
from rich.style import Style

from joinmatrix.findings import Severity, Verdict
from joinmatrix.place import Place
from joinmatrix.reports.phrases import SHAPES
from joinmatrix.reports.text import cells_text, encodable, padded, safe, width, wrapped

PLAIN = ""
BOLD = "bold"
PLATE = "bold reverse"
# Bold and colours that are dark enough on white and bright enough on black; never colour alone.
STYLES = {
    Severity.HOLD: "bold red",
    Severity.OPEN: "bold magenta",
    Severity.NOTE: "bold",
    Verdict.HOLD: "bold red",
    Verdict.OPEN: "bold magenta",
    Verdict.CLEAR: "bold green",
}

Span: TypeAlias = tuple[str, str]
Line: TypeAlias = list[Span]


@dataclass(frozen=True, slots=True)
class Marks:
    """The shapes that a terminal can show. Each stands before a letter that says the same."""

    severity: dict[Severity, str]
    verdict: dict[Verdict, str]
    inspected: str
    made: str
    placed: str
    to_do: str
    blank: str
    rule: str


_SHAPES = Marks(
    {each: SHAPES[each] for each in Severity},
    {each: SHAPES[each] for each in Verdict},
    inspected="█", made="▓", placed="▒", to_do="░", blank="·", rule="─",
)  # fmt: skip
_ASCII = Marks(
    {Severity.HOLD: "#", Severity.OPEN: "+", Severity.NOTE: "-"},
    {Verdict.HOLD: "#", Verdict.OPEN: "+", Verdict.CLEAR: "*"},
    inspected="I", made="M", placed="P", to_do=".", blank=".", rule="-",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Paper:
    """What a report is written on: its width in cells and what can be shown there."""

    width: int = 80
    encoding: str = "utf-8"

    @property
    def marks(self) -> Marks:
        """The shapes, or their ASCII stand-ins where the encoding does not have them all."""
        return _marks(self.encoding)

    def safe(self, text: str) -> str:
        """Text of a list as it can be shown here."""
        return safe(text, self.encoding)

    def severity(self, severity: Severity, label: str = "") -> Span:
        """Shape and letter of a severity: "■H", or with the label of a finding "■H3"."""
        return (
            self.marks.severity[severity] + (label or severity.value[0].upper()),
            STYLES[severity],
        )

    def verdict(self, verdict: Verdict) -> Span:
        """Shape, letter and word of a verdict: "■H hold"."""
        word = verdict.value
        return (f"{self.marks.verdict[verdict]}{word[0].upper()} {word}", STYLES[verdict])

    def plate(self, text: str) -> Line:
        """A heading across the whole width."""
        label = f" {self.safe(text)} "
        return [(padded(label, max(self.width, width(label))), PLATE)]

    def heading(self, text: str) -> Line:
        """A heading with a rule after it."""
        label = self.safe(text)
        rest = self.width - width(label) - 1
        return [(label, BOLD), (" " + self.marks.rule * max(rest, 0), PLAIN)]

    def paragraph(self, text: str, indent: int = 0, first: Line | None = None) -> Iterator[Line]:
        """Text of any length, wrapped; `first` stands before it and later lines hang below it."""
        lead = first or []
        hang = indent + sum(width(part) for part, _ in lead)
        for number, piece in enumerate(wrapped(self.safe(text), self.width - hang)):
            before: Line = [(" " * indent, PLAIN), *lead] if not number else [(" " * hang, PLAIN)]
            yield [*before, (piece, PLAIN)]

    def places(self, places: Iterable[Place], indent: int, label: str) -> Iterator[Line]:
        """Cells, after a label of the width that `indent` leaves for it."""
        yield from self.paragraph(cells_text(places), indent, [(label, PLAIN)])


@lru_cache(maxsize=8)
def _marks(encoding: str) -> Marks:
    shapes = "".join((*_SHAPES.severity.values(), *_SHAPES.verdict.values(), "█▓▒░·─"))
    return _SHAPES if encodable(shapes, encoding) else _ASCII


def paper_of(console: Console) -> Paper:
    """The paper that a console is."""
    return Paper(max(console.width, 20), console.encoding)


def write_lines(console: Console, lines: Iterable[Line]) -> None:
    """Hand lines to a console, a few thousand at a time."""
    batch: list[Segment] = []
    for line in lines:
        batch += [Segment(text, _style(style)) for text, style in _trimmed(line)]
        batch.append(Segment.line())
        if len(batch) > 20_000:
            console.print(Segments(batch), soft_wrap=True, end="")
            batch = []
    if batch:
        console.print(Segments(batch), soft_wrap=True, end="")


def _trimmed(line: Line) -> Line:
    """The line without the spaces at its end that only filled it up."""
    while line and line[-1][1] != PLATE:
        text, style = line[-1]
        if text and text[-1] != " ":
            break
        kept = text.rstrip(" ")
        line = [*line[:-1], (kept, style)] if kept else line[:-1]
    return line


@lru_cache(maxsize=32)
def _style(definition: str) -> Style | None:
    return Style.parse(definition) if definition else None


def plain(lines: Iterable[Line]) -> str:
    """The lines as bare text."""
    return "".join("".join(text for text, _ in line).rstrip(" ") + "\n" for line in lines)
