"""Random plans, with what they ask worked out by itself: no rule is parsed here.

Stages s0, s1, ... and connections c0, c1, ... have places along a line. Rules mostly point the
right way along it, so most plans can be met.
"""

from dataclasses import dataclass, field

from hypothesis import strategies as st

from joinmatrix.timing.network import TICKS, Edge
from tests.builders import assembly_of, table
from tests.timing.brute import can_be_met, longest

HOUR = 60 * TICKS
STEPS = ("placed", "made", "inspected")


@dataclass
class Plan:
    """Rows of lists, and the gaps between (name, side, act) that they stand for."""

    connections: list = field(default_factory=list)  # id, side, place, timing, inspect, closed by
    stages: list = field(default_factory=list)  # name, side, timing, after
    gaps: list = field(default_factory=list)  # earlier, later, ticks

    def tables(self):
        head = "connection|joint|side|type|place|timing|inspect|closed by"
        rows = [f"{c[0]}|fin|{c[1]}|line|{'|'.join(c[2:])}" for c in self.connections]
        stage_rows = ["|".join(stage) for stage in self.stages]
        return [
            table("connections", "\n".join([head, *rows])),
            table("stages", "\n".join(["stage|side|timing|after", *stage_rows])),
        ]

    def assembly(self, record=()):
        """The assembly with some acts on record: (name, side, act, when)."""
        tables = self.tables()
        if record:
            rows = ["when|seq|act|stage|connection|side"]
            for number, (name, side, act, when) in enumerate(record):
                stage = name if act in ("started", "done") else ""
                connection = "" if stage else name
                rows.append(f"{when}|{number}|{act}|{stage}|{connection}|{side}")
            tables.append(table("record", "\n".join(rows)))
        return assembly_of(*tables)

    @property
    def points(self):
        return {
            point: n for n, point in enumerate(dict.fromkeys(p for g in self.gaps for p in g[:2]))
        }

    @property
    def edges(self):
        points = self.points
        return [Edge(points[a], points[b], gap, n) for n, (a, b, gap) in enumerate(self.gaps)]

    def can_be_met(self):
        return can_be_met(len(self.points), self.edges)

    def closure(self):
        """Greatest least gap between every two points."""
        points, rows = self.points, longest(len(self.points), self.edges)
        return {(a, b): rows[points[a]][points[b]] for a in points for b in points}


SIDES = {"": ("",), "both": ("L", "R"), "L": ("L",), "R": ("R",), "C": ("C",)}


def meant(own, on):
    """The sides of a name in a rule of something on a side."""
    if on == ("",):
        return on
    if own in on:
        return (own,)
    if own in ("", "C"):
        return on
    return ("C",) if "C" in on else ()


@st.composite
def plans(draw, *, timed=False):
    """A plan of up to five stages and seven connections."""
    plan = Plan()
    count = draw(st.integers(1, 4))
    stage_on = [SIDES[draw(st.sampled_from(["", "", "both"]))] for _ in range(count)]
    line_on = [
        SIDES[draw(st.sampled_from(["L", "R", "C", "both"]))]
        for _ in range(draw(st.integers(1, 6)))
    ]
    for number, on in enumerate(stage_on):
        for side in on:
            plan.gaps.append(((f"s{number}", side, "started"), (f"s{number}", side, "done"), 1))
    for number, on in enumerate(line_on):
        for side in on:
            for one, other in (STEPS[:2], STEPS[1:]):
                plan.gaps.append(((f"c{number}", side, one), (f"c{number}", side, other), 0))
    for number, on in enumerate(stage_on):
        after = draw(st.sampled_from(["", *(f"s{each}" for each in range(number))]))
        if after:
            for side in on:
                for there in meant(side, stage_on[int(after[1:])]):
                    plan.gaps.append(((after, there, "done"), (f"s{number}", side, "started"), 0))
        plan.stages.append((f"s{number}", "both" if len(on) == 2 else "", "", after))
    for number, on in enumerate(line_on):
        place = draw(st.integers(0, count))
        texts = [draw(clauses(plan, number, on, place, stage_on, line_on, step, timed))
                 for step in STEPS]  # fmt: skip
        closing = draw(st.sampled_from(["", *(f"s{each}" for each in range(place, count))]))
        for side in on if closing else ():
            for there in meant(side, stage_on[int(closing[1:])]):
                end = (f"c{number}", side, "inspected")
                plan.gaps.append((end, (closing, there, "started"), 0))
        side = "both" if len(on) == 2 else on[0]
        plan.connections.append((f"c{number}", side, *texts, closing))
    return plan


@st.composite
def clauses(draw, plan, number, on, place, stage_on, line_on, step, timed):
    """The text of one rule; its gaps go into the plan."""
    words = ["after", "before", "during", "line after", "line with", "any"]
    words += ["at least", "within"] if timed else []
    texts = []
    for word in draw(st.lists(st.sampled_from(words), max_size=1 if step != "made" else 2)):
        if word.startswith("line"):
            target = draw(st.integers(0, len(line_on) - 1))
            if target == number or (target > number and draw(st.integers(0, 5))):
                continue
            texts.append(f"{word[5:]} c{target}")
        else:
            behind = word in ("before",)
            span = range(place, len(stage_on)) if behind else range(place)
            target = draw(st.sampled_from([*span])) if span else -1
            if target < 0 or word == "any":
                continue
            hours = draw(st.integers(1, 30)) if word in ("at least", "within") else 0
            text = {"at least": f"at least {hours} h after", "within": f"within {hours} h of"}
            texts.append(f"{text.get(word, word)} s{target}")
        for side in on:
            own = (f"c{number}", side, step)
            if word.startswith("line"):
                for there in meant(side, line_on[target]):
                    made = (f"c{target}", there, "made")
                    strict = int(word == "line after")
                    plan.gaps.append((made, own, strict))
                    plan.gaps += [] if strict else [(own, made, 0)]
                continue
            for there in meant(side, stage_on[target]):
                start, end = (f"s{target}", there, "started"), (f"s{target}", there, "done")
                plan.gaps += {
                    "after": [(end, own, 0)],
                    "before": [(own, start, 0)],
                    "during": [(start, own, 0), (own, end, 0)],
                    "at least": [(end, own, hours * HOUR)],
                    "within": [(end, own, 0), (own, end, -hours * HOUR)],
                }[word]
    return "; ".join(texts)
