"""The route of a port: as a drawing on a terminal, and as JSON."""

from collections.abc import Iterator
from typing import NamedTuple

from joinmatrix.answers.not_understood import Part
from joinmatrix.answers.trace import FIXED, Port, Step, Trace
from joinmatrix.assembly.model import Assembly, Key
from joinmatrix.assembly.standing import NOTHING_DONE, standings
from joinmatrix.findings import Severity, Verdict
from joinmatrix.names import folded
from joinmatrix.reports.answer_head import head_lines, heading_lines, stamp_lines
from joinmatrix.reports.json_text import document, troubles_of
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper, Span
from joinmatrix.reports.terminal_matrix import stamps
from joinmatrix.reports.text import counted, encodable, some, width, wrapped

FORMAT = "joinmatrix-trace/1"
RESTS_ON = (Part.ROWS, Part.MATES)
_MOST_PORTS = 40


def trace_lines(trace: Trace, assembly: Assembly, paper: Paper) -> Iterator[Line]:
    """The way of the port with the state of each connection on it, and where it is open."""
    yield from head_lines(f"Route of {trace.port} {trace.side}", assembly, RESTS_ON, paper)
    yield []
    services = ", ".join(trace.services) or "nothing that a list names"
    yield from paper.paragraph(services, 2, [("carries  ", BOLD)])
    yield from heading_lines("The way", paper)
    yield from _legend(trace, assembly, paper)
    yield []
    yield from _Drawing(trace, assembly, paper).lines()
    yield from _open(trace, paper)
    yield from _departures(trace, paper)
    yield from _verdict(trace, assembly, paper)


def _legend(trace: Trace, assembly: Assembly, paper: Paper) -> Iterator[Line]:
    if not all(map(_is_run, trace.links)):
        blank = paper.marks.blank
        plan = "" if assembly.plan_only else f"; [P{blank}{blank}] placed; x undone since"
        yield from paper.paragraph(f"[PMI] placed, made, inspected{plan}.", 2)


class _Shapes(NamedTuple):
    """What branches are drawn with; each takes three cells."""

    branch: str
    bar: str


class _Drawing:
    """One line for each port and each link; a branch is set in, what is open has a mark."""

    def __init__(self, trace: Trace, assembly: Assembly, paper: Paper) -> None:
        self.trace = trace
        self.paper = paper
        self.standings = standings(assembly)
        drawn = encodable("├─│", paper.encoding)
        self.shapes = _Shapes("├─ ", "│  ") if drawn else _Shapes("+- ", "|  ")
        self.ends = set(trace.ends)
        self.number = 0

    def lines(self) -> Iterator[Line]:
        """The drawing."""
        start = Port(self.trace.port, self.trace.side)
        note = "  ends here" if start in self.ends else ""
        yield from self._wrapped("", "", [], f"{start}{note}", BOLD)
        for step in self.trace.links:
            yield from self._step(step)

    def _step(self, step: Step) -> Iterator[Line]:
        above = self._bars(step.depth - step.first)
        lead = above + (self.shapes.branch if step.first else self.shapes.bar)
        hang = above + self.shapes.bar
        yield from self._wrapped(lead, hang, self._marks(step), _about(step), PLAIN)
        note = "  again: a loop" if step.again else "  ends here" if step.end in self.ends else ""
        below = self._bars(step.depth)
        yield from self._wrapped(below, below, [], f"{step.end}{note}", BOLD)

    def _bars(self, depth: int) -> str:
        """The bars of the branches that lie behind; a deep route says its depth by a number."""
        most = max(self.paper.width // 6, 1)
        return self.shapes.bar * depth if depth <= most else f"{self.shapes.bar * most}{depth}: "

    def _marks(self, step: Step) -> list[Span]:
        if _is_run(step):
            return [("run  ", PLAIN)]
        standing = self.standings.get(Key(folded(step.by), step.side), NOTHING_DONE)
        marks: list[Span] = [(stamps(standing, self.paper), PLAIN), (" ", PLAIN)]
        if step.wrong or step.open:
            self.number += 1
            severity = Severity.HOLD if step.wrong else Severity.OPEN
            marks += [_mark(self.paper, severity, self.number), (" ", PLAIN)]
        return [*marks, (self.paper.safe(step.by), BOLD), ("  ", PLAIN)]

    def _wrapped(
        self, lead: str, hang: str, marks: list[Span], text: str, style: str
    ) -> Iterator[Line]:
        """A line that goes on, where it must, below itself and with the bars beside it."""
        used = 2 + width(lead) + sum(width(part) for part, _ in marks)
        if used + 8 > self.paper.width:
            marks, text = [], " ".join((*(part.strip() for part, _ in marks), text))
            used = 2 + width(lead)
        pieces = wrapped(self.paper.safe(text), self.paper.width - used)
        yield [(f"  {lead}", PLAIN), *marks, (pieces[0], style)]
        for piece in pieces[1:]:
            indent = " " * (used - 2 - width(hang))
            yield [(f"  {hang}{indent}", PLAIN), (piece, style)]


def _is_run(step: Step) -> bool:
    return step.by == "run" and step.state == FIXED


def _about(step: Step) -> str:
    if _is_run(step):
        return ": ".join(text for text in (f"in {step.half}" if step.half else "", step.service)
                         if text)  # fmt: skip
    where = f"{step.joint} {step.side}"
    return f"{where}: {step.service}" if step.service else where


def _mark(paper: Paper, severity: Severity, number: int) -> Span:
    return paper.severity(severity, f"{severity.value[0].upper()}{number}")


def _open(trace: Trace, paper: Paper) -> Iterator[Line]:
    """Where it is open, with the numbers of the drawing."""
    if not trace.open_at:
        return
    yield from heading_lines("Where it is open", paper)
    marked = [step for step in trace.links if step.wrong or step.open]
    for number, text in enumerate(trace.open_at, 1):
        wrong = number <= len(marked) and marked[number - 1].wrong
        severity = Severity.HOLD if wrong else Severity.OPEN
        mark = _mark(paper, severity, number)
        yield from paper.paragraph(text, 2, [mark, ("  ", PLAIN)])


def _departures(trace: Trace, paper: Paper) -> Iterator[Line]:
    """Where the alike routes of other sides go another way."""
    if not trace.departures:
        return
    yield from heading_lines("Where the like route elsewhere differs", paper)
    for each in trace.departures:
        yield from paper.paragraph(each.text, 2, [(f"{paper.safe(each.side)}  ", BOLD)])


def _verdict(trace: Trace, assembly: Assembly, paper: Paper) -> Iterator[Line]:
    ends = some(map(str, trace.ends), _MOST_PORTS)
    yield []
    yield from paper.paragraph(ends or "none: it goes round", 2, [("ends at  ", BOLD)])
    joints = sum(not _is_run(step) for step in trace.links)
    numbers = f"{counted(joints, 'connection')}, {counted(len(trace.links) - joints, 'run')}"
    if any(step.wrong for step in trace.links):
        yield from stamp_lines(Verdict.HOLD, "MATED TO ANOTHER PORT", numbers, paper)
    elif trace.open_at:
        places = counted(len(trace.open_at), "place")
        yield from stamp_lines(Verdict.OPEN, f"OPEN at {places}", numbers, paper)
    elif assembly.plan_only:
        yield from stamp_lines(Verdict.CLEAR, "AS LISTED", numbers, paper)
    else:
        yield from stamp_lines(Verdict.CLEAR, "MADE all the way", numbers, paper)


# --- JSON ----------------------------------------------------------------------------------------


def trace_json(trace: Trace, assembly: Assembly) -> str:
    """The answer as JSON text."""
    return document(
        {
            "format": FORMAT,
            "port": trace.port,
            "side": trace.side,
            "services": list(trace.services),
            "ports": [_port(each) for each in trace.ports],
            "links": [_link(step) for step in trace.links],
            "open at": list(trace.open_at),
            "ends": [_port(each) for each in trace.ends],
            "departures": [{"side": each.side, "text": each.text} for each in trace.departures],
            "not understood": troubles_of(assembly, RESTS_ON),
        }
    )


def _port(port: Port) -> dict[str, object]:
    return {"port": port.port, "side": port.side}


def _link(step: Step) -> dict[str, object]:
    return {
        "by": step.by,
        "joint": step.joint,
        "side": step.side,
        "from": step.start.port,
        "to": step.end.port,
        "state": step.state,
        "from side": step.start.side,
        "to side": step.end.side,
        "service": step.service,
        "half": step.half,
        "open": step.open,
        "wrong": step.wrong,
    }
