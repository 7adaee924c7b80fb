"""Acts as a mechanic is told them, and as JSON has them."""

from collections.abc import Iterable, Iterator

from joinmatrix.answers.steps import Step
from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.names import folded
from joinmatrix.reports.answer_head import hanging_lines
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.text import padded, width

_BOX = 10  # the indent, "[ ] " and the gaps

# What to do, for each act that can be recorded.
VERBS = {
    Act.PLACED: "place",
    Act.MADE: "make",
    Act.INSPECTED: "inspect",
    Act.MEASURED: "measure",
    Act.OPENED: "open",
    Act.FITTED: "fit",
    Act.REMOVED: "remove",
    Act.STARTED: "start",
    Act.DONE: "finish",
}


def verb(step: Step) -> str:
    """What to do: "make"."""
    return VERBS[Act(step.act)]


def verbs(steps: Iterable[Step]) -> str:
    """What to do of several acts on one thing: "place, make"."""
    return ", ".join(dict.fromkeys(map(verb, steps)))


def bare_name(step: Step) -> str:
    """What something is done to: "H-07"."""
    return step.connection or step.item or step.stage


def subject(step: Step) -> str:
    """What something is done to, with its side: "H-07 L"."""
    return f"{bare_name(step)} {step.side}".rstrip()


def step_object(step: Step) -> dict[str, object]:
    """An act, with the names of its fields."""
    return {
        "act": step.act,
        "connection": step.connection,
        "item": step.item,
        "stage": step.stage,
        "side": step.side,
    }


def carries(step: Step, assembly: Assembly) -> str:
    """What the connection of an act carries, or what it is; "" for stages and items."""
    connection = assembly.by_key.get(Key(folded(step.connection), step.side))
    return (connection.service or connection.type) if connection else ""


class StepTable:
    """Acts one below the other: a box to tick, what to do, to what, what that carries, where."""

    def __init__(self, steps: Iterable[Step], assembly: Assembly, paper: Paper) -> None:
        """Measure the columns for all acts that will stand in it."""
        self._assembly = assembly
        self._paper = paper
        seen = list(steps)
        self._verb = max((len(verb(step)) for step in seen), default=0)
        longest = max((width(paper.safe(subject(step))) for step in seen), default=0)
        self._name = min(longest, max((paper.width - _BOX - self._verb) // 2, 8))

    def row(self, step: Step) -> Iterator[Line]:
        """One act in as many lines as it takes."""
        name = self._paper.safe(subject(step))
        text = self._about(step)
        beside = text and width(name) <= self._name
        lead: Line = [
            (f"[ ] {verb(step):{self._verb}}  ", PLAIN),
            (padded(name, self._name) + "  " if beside else name, BOLD),
        ]
        yield from hanging_lines(lead, text if beside else "", self._paper, 4)
        if text and not beside:
            yield from self._paper.paragraph(text, 8)

    def _about(self, step: Step) -> str:
        where = f"at {step.joint}" if step.joint else ""
        return ", ".join(text for text in (carries(step, self._assembly), where) if text)
