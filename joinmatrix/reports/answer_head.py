"""What stands above and below every answer: what it is about, and what it cannot know."""

from collections.abc import Collection, Iterator

from joinmatrix.answers.not_understood import Part, not_understood
from joinmatrix.assembly.model import Assembly
from joinmatrix.findings import Severity, Verdict
from joinmatrix.reports.lines import BOLD, PLAIN, STYLES, Line, Paper
from joinmatrix.reports.moment import moment_text
from joinmatrix.reports.text import cells_text, counted, width

_MOST_CELLS = 6
_LEAST_ROOM = 12


def head_lines(
    title: str, assembly: Assembly, parts: Collection[Part], paper: Paper
) -> Iterator[Line]:
    """The title with unit and time; that it is a plan; that something was not understood.

    parts  what the answer rests on
    """
    said = [title]
    if assembly.unit:
        said.append(f"unit {assembly.unit}")
    if assembly.as_of is not None and not assembly.plan_only:
        said.append(f"as of {moment_text(assembly.as_of)}")
    yield from title_lines("  ".join(said), paper)
    if assembly.plan_only:
        yield []
        yield from paper.paragraph(
            "nothing is recorded or ticked, so this is about the plan.",
            first=[("PLAN ONLY  ", BOLD)],
        )
    yield from caution_lines(assembly, parts, paper)


def title_lines(title: str, paper: Paper) -> Iterator[Line]:
    """A title across the whole width; on several lines where it is longer than one."""
    if width(paper.safe(title)) + 2 <= paper.width:
        yield paper.plate(title)
    else:
        yield from bold_lines(title, paper)


def caution_lines(assembly: Assembly, parts: Collection[Part], paper: Paper) -> Iterator[Line]:
    """That cells could not be understood, so that the answer may lack something."""
    places = list(dict.fromkeys(each.place for each in not_understood(assembly, parts)))
    if not places:
        return
    more = f" and {len(places) - _MOST_CELLS:,} more" if len(places) > _MOST_CELLS else ""
    yield []
    yield from paper.paragraph(
        f"NOT COMPLETE: {counted(len(places), 'cell')} could not be understood, so this answer "
        f"may lack something: {cells_text(places[:_MOST_CELLS])}{more}. "
        "To see why: joinmatrix check --kind unreadable.",
        first=[paper.severity(Severity.HOLD), ("  ", PLAIN)],
    )


def stamp_lines(verdict: Verdict, words: str, numbers: str, paper: Paper) -> Iterator[Line]:
    """The line that everything comes to: a stamp, and the numbers behind it."""
    mark = f"{paper.marks.verdict[verdict]}{verdict.value[0].upper()}"
    stamp: Line = [(f" {mark} {paper.safe(words)} ", f"{STYLES[verdict]} reverse")]
    yield []
    if sum(width(text) for text, _ in stamp) + 2 + width(numbers) <= paper.width:
        yield [*stamp, (f"  {numbers}" if numbers else "", BOLD)]
    else:
        yield from paper.paragraph(numbers, 1)
        yield stamp


def heading_lines(text: str, paper: Paper) -> Iterator[Line]:
    """A heading with a blank line above it."""
    yield []
    if width(paper.safe(text)) <= paper.width:
        yield paper.heading(text)
    else:
        yield from bold_lines(text, paper)


def bold_lines(text: str, paper: Paper, indent: int = 0) -> Iterator[Line]:
    """Text that stands out, wrapped."""
    for line in paper.paragraph(text, indent):
        yield [(piece, BOLD) for piece, _ in line]


def hanging_lines(lead: Line, text: str, paper: Paper, indent: int = 2) -> Iterator[Line]:
    """Text that hangs beside a lead; below it where the lead takes nearly the whole line."""
    used = indent + sum(width(part) for part, _ in lead)
    if used + (_LEAST_ROOM if text else 0) <= paper.width:
        yield from paper.paragraph(text, indent, lead)
        return
    yield from bold_lines("".join(part for part, _ in lead).strip(), paper, indent)
    if text:
        yield from paper.paragraph(text, indent + 4)


def label_lines(paper: Paper, label: str, text: str, indent: int = 2) -> Iterator[Line]:
    """A word, and text beside it that hangs below itself."""
    yield from paper.paragraph(text, indent, [(f"{label}  ", BOLD)] if label else [("", PLAIN)])
