"""What stands on a work card: the acts that are still to do, in an order that the rules allow.

For a joint (or one side of it) these are all acts that are left there; for a stage those that must
be done before it starts, those that belong to it, and those that it makes possible.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly, Connection, Key, Temporary
from joinmatrix.assembly.standing import NOTHING_DONE
from joinmatrix.errors import CallError
from joinmatrix.findings import Severity
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.place import column_letters
from joinmatrix.readings.limits import read_limits
from joinmatrix.report import Report
from joinmatrix.reports.cautions import cautions
from joinmatrix.reports.matrix import Numbered, numbered, touches
from joinmatrix.reports.moment import moment_text
from joinmatrix.routes.alike import alike_groups
from joinmatrix.timing.bounds import Bound
from joinmatrix.timing.constraints import Owner, Plan, plan_of
from joinmatrix.timing.judge import removals
from joinmatrix.timing.stages import stages_of

STEPS = (Act.PLACED, Act.MADE, Act.INSPECTED)
DO = {Act.PLACED: "place", Act.MADE: "make", Act.INSPECTED: "inspect", Act.REMOVED: "remove"}
_RULE_OF = {Act.PLACED: "place", Act.MADE: "timing", Act.INSPECTED: "inspect"}


class Chosen(NamedTuple):
    """What a card is for: a joint, a side, a stage; "" leaves it open."""

    joint: str = ""
    side: str = ""
    stage: str = ""


class Task(NamedTuple):
    """One act to do and to sign for.

    do        "place", "make", "inspect" or "remove"
    about     what it carries and what it is
    ports     "W-H4 (-6, flare 37) to F-H4 (-6, flare 37)"
    rule      when it may be done, in the words of the lists
    readings  what must be measured and written down
    remarks   part, remarks, who may not inspect
    swap      letter of the group of look-alikes that it belongs to, "" for none
    holds     holds that touch it
    again     its connection stands on the card already, with its ports and remarks
    """

    do: str
    name: str
    joint: str
    side: str
    about: str
    ports: str
    rule: str
    readings: tuple[str, ...]
    remarks: tuple[str, ...]
    swap: str
    holds: tuple[Numbered, ...]
    again: bool = False


class Section(NamedTuple):
    """Tasks that become possible together."""

    title: str
    tasks: tuple[Task, ...]


class Swappable(NamedTuple):
    """Connections that can be swapped by hand: (identifier, service, ports, part, remarks)."""

    letter: str
    where: str
    told_by: str
    members: tuple[tuple[str, str, str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Card:
    """A work card.

    done     acts that are recorded already and not on the card; 0 on the card of a stage
    holds    holds on the connections of the card, in the order of the report
    digests  file -> SHA-256, of the lists it was made from
    """

    title: str
    unit: str
    as_of: str
    sections: tuple[Section, ...]
    swappable: tuple[Swappable, ...]
    cautions: tuple[str, ...]
    holds: tuple[Numbered, ...]
    done: int
    digests: Mapping[str, str]

    @property
    def tasks(self) -> int:
        """How many acts there are to do."""
        return sum(len(section.tasks) for section in self.sections)


def card(report: Report, chosen: Chosen, digests: Mapping[str, str]) -> Card:
    """The work card of a joint, a side, a stage, or of what several of them have in common.

    digests  file -> SHA-256 of the lists that the report was made from
    raises   CallError for a joint, side or stage that there is not
    """
    _require(report, chosen)
    work = _Work(report, chosen)
    sections = tuple(work.sections())
    assembly = report.assembly
    as_of = "" if assembly.as_of is None or assembly.plan_only else moment_text(assembly.as_of)
    return Card(
        title=_title(chosen),
        unit=assembly.unit,
        as_of=as_of,
        sections=sections,
        swappable=tuple(work.swappable),
        cautions=tuple(cautions(work.on_card(), work.items_on_card())),
        holds=tuple(work.holds()),
        done=0 if chosen.stage else work.done,
        digests=digests,
    )


def _title(chosen: Chosen) -> str:
    parts = []
    if chosen.stage:
        parts.append(f"stage {chosen.stage}")
    if chosen.joint:
        parts.append(f"joint {chosen.joint}")
    if chosen.side:
        parts.append(f"side {chosen.side}")
    return ", ".join(parts) or "all joints"


def _require(report: Report, chosen: Chosen) -> None:
    assembly = report.assembly
    known = {
        "joint": (chosen.joint, [each.name for each in assembly.joints]),
        "side": (chosen.side, [each.side for each in report.joints]),
        "stage": (chosen.stage, [each.name for each in stages_of(assembly)]),
    }
    for what, (asked, names) in known.items():
        if asked and folded(asked) not in map(folded, names):
            near = nearest(asked, names) or list(dict.fromkeys(names))[:8]
            raise CallError(f'no {what} is called "{asked}"', f"Known: {quoted_list(near)}")


class _Todo(NamedTuple):
    """An act that is left, before it is put into words."""

    act: Act
    connection: Connection | None
    item: Temporary | None
    point: int


class _Work:
    """The acts that are left, chosen and put in order."""

    def __init__(self, report: Report, chosen: Chosen) -> None:
        self.report = report
        self.assembly: Assembly = report.assembly
        self.chosen = chosen
        self.plan: Plan = plan_of(self.assembly)
        self.earliest = self.plan.sound.earliest()
        self.touched = touches(numbered(report.findings), report)
        self.done = 0
        self.order = {id(each): number for number, each in enumerate(self.assembly.connections)}
        left = list(self._todo())
        sections = self._stage_sections(left) if chosen.stage else self._joint_sections(left)
        self.by_title = [(title, several) for title, several in sections if several]
        self.todo = [each for _, several in self.by_title for each in several]

    # --- which ---

    def _todo(self) -> Iterator[_Todo]:
        for connection in self.assembly.connections:
            if self._is_chosen(connection.joint_key, connection.key.side):
                yield from self._left_of(connection)
        off = removals(self.assembly)
        numbers = {
            item.key: number
            for number, items in enumerate(self.plan.rules_of.items)
            for item in items.members
        }
        for item in self.assembly.temporary:
            if self._is_chosen(folded(item.joint), item.key.side):
                if item.key in off:
                    self.done += 1
                else:
                    yield _Todo(Act.REMOVED, None, item, self._item_point(numbers[item.key]))

    def _is_chosen(self, joint_key: str, side: str) -> bool:
        chosen = self.chosen
        return (not chosen.joint or joint_key == folded(chosen.joint)) and (
            not chosen.side or folded(side) == folded(chosen.side)
        )

    def _left_of(self, connection: Connection) -> Iterator[_Todo]:
        standing = self.report.standings.get(connection.key, NOTHING_DONE)
        acts = {
            Act.PLACED: standing.placed or standing.made,
            Act.MADE: standing.made,
            Act.INSPECTED: standing.inspected,
        }
        for act, entry in acts.items():
            if entry is not None:
                self.done += 1
            elif (
                act is not Act.PLACED or connection.place
            ):  # placing is signed for where it matters
                yield _Todo(act, connection, None, self.plan.step_point(connection.key, act))

    def _item_point(self, number: int) -> int:
        return self.plan.owner_point(Owner("item", number), Act.REMOVED)

    # --- in which order ---

    def sections(self) -> Iterator[Section]:
        """The tasks by what they wait for; for a stage, by how they stand to it."""
        told: set[Key] = set()
        for title, several in self.by_title:
            tasks = []
            for each in self._in_order(several):
                key = each.connection.key if each.connection else None
                tasks.append(self._task(each, again=key in told))
                if key is not None:
                    told.add(key)
            yield Section(title, tuple(tasks))

    def _joint_sections(self, left: list[_Todo]) -> Iterator[tuple[str, list[_Todo]]]:
        by_start: defaultdict[tuple[int, str], list[_Todo]] = defaultdict(list)
        for each in left:
            by_start[self._waits_for(each)].append(each)
        for (_, title), several in sorted(by_start.items()):
            yield title, several

    def _waits_for(self, todo: _Todo) -> tuple[int, str]:
        """The last stage that its own rules let it wait for, by when that can be over."""
        last = (-1, "At any time")
        for bound in self._bounds(todo):
            if bound.after and bound.ref.subject == "stage":
                ticks = self.earliest[self.plan.stage_point(bound.ref.key, bound.at)]
                verb = "is done" if bound.at is Act.DONE else "has started"
                last = max(last, (ticks, f"Once {self._stage_name(bound.ref.key)} {verb}"))
        return last

    def _bounds(self, todo: _Todo) -> Iterator[Bound]:
        """The demands on an act and on those that come before it."""
        if todo.connection is None:
            assert todo.item is not None
            for items in self.plan.rules_of.items:
                if todo.item in items.members:
                    yield from items.bounds
            return
        upto = STEPS[: STEPS.index(todo.act) + 1]
        group = self.plan.rules_of.groups[self.plan.group_of[todo.connection.key]]
        yield from (bound for bound in group.bounds if bound.act in upto)

    def _stage_sections(self, left: list[_Todo]) -> Iterator[tuple[str, list[_Todo]]]:
        keys = [
            stage.key
            for stage in stages_of(self.assembly)
            if stage.key.name == folded(self.chosen.stage)
            and (not self.chosen.side or stage.key.side in ("", self._side_label()))
        ]
        name = self.chosen.stage
        before: list[_Todo] = []
        during: list[_Todo] = []
        after: list[_Todo] = []
        must_precede = self._points_before(keys)
        for each in left:
            own = {
                (bound.after, bound.at)
                for bound in self._own_bounds(each)
                if bound.ref.subject == "stage" and bound.ref.key in keys
            }
            if each.point in must_precede:
                before.append(each)
            elif (True, Act.STARTED) in own:
                during.append(each)
            elif (True, Act.DONE) in own:
                after.append(each)
        yield f"Before {name} starts", before
        yield f"While {name} goes on", during
        yield f"After {name} is done", after

    def _own_bounds(self, todo: _Todo) -> Iterator[Bound]:
        return (bound for bound in self._bounds(todo) if bound.act is todo.act)

    def _points_before(self, keys: Sequence[Key]) -> set[int]:
        """The acts that by all rules together must be over when one of these stages starts."""
        points: set[int] = set()
        for key in keys:
            gaps = self.plan.sound.gaps_to(self.plan.stage_point(key, Act.STARTED))
            points.update(point for point, gap in enumerate(gaps) if gap is not None and gap >= 0)
        return points

    def _side_label(self) -> str:
        labels = {folded(each.side): each.side for each in self.report.joints}
        return labels.get(folded(self.chosen.side), self.chosen.side)

    def _in_order(self, several: list[_Todo]) -> list[_Todo]:
        """Earliest first, look-alikes beside each other, else in the order of the lists."""
        first_of: dict[str, int] = {}
        for each in several:
            letter = self._letter(each)
            if letter:
                first_of[letter] = min(first_of.get(letter, 1 << 62), self._position(each))
        return sorted(
            several,
            key=lambda each: (
                self.earliest[each.point],
                first_of.get(self._letter(each), self._position(each)),
                self._position(each),
                each.act is Act.INSPECTED,
            ),
        )

    def _position(self, todo: _Todo) -> int:
        if todo.connection is not None:
            return self.order[id(todo.connection)]
        assert todo.item is not None
        return len(self.order) + self.assembly.temporary.index(todo.item)

    def _stage_name(self, key: Key) -> str:
        stage = self.plan.rules_of.names.stages.get(key)
        return str(stage) if stage else key.name

    # --- in words ---

    def _task(self, todo: _Todo, *, again: bool) -> Task:
        if todo.connection is None:
            assert todo.item is not None
            return _removal(todo.item)
        each = todo.connection
        rule = getattr(each, _RULE_OF[todo.act])
        closed = f"closed by {each.closed_by}" if each.closed_by else ""
        remarks = [text for text in (each.part and f"part {each.part}", each.remarks) if text]
        if again:
            remarks = []
        if todo.act is Act.INSPECTED and each.limits:
            remarks.append(f"limits {each.limits}")
        if todo.act is Act.INSPECTED and each.critical:
            remarks.append("critical: inspected by someone else than the one who made it")
        holds = tuple(
            found
            for found in self.touched.get(each.key, ())
            if found.finding.severity is Severity.HOLD
        )
        return Task(
            DO[todo.act],
            each.id,
            each.joint,
            each.key.side,
            "; ".join(text for text in (each.service, each.type) if text),
            "" if again else ports_text(each),
            "; ".join(text for text in (rule, closed) if text) or "any time",
            readings(each.limits) if todo.act is Act.MADE else (),
            tuple(remarks),
            self._letter(todo),
            holds,
            again,
        )

    def _letter(self, todo: _Todo) -> str:
        return self._letters.get(todo.connection.key, "") if todo.connection else ""

    @cached_property
    def _groups(self) -> list[tuple[str, tuple[Connection, ...], str]]:
        left = {each.connection.key for each in self.todo if each.connection is not None}
        groups = [
            group
            for group in alike_groups(self.assembly)
            if any(member.key in left for member in group.connections)
        ]
        return [
            (_letter_of(number), group.connections, " and ".join(group.apart))
            for number, group in enumerate(groups)
        ]

    @cached_property
    def _letters(self) -> dict[Key, str]:
        return {member.key: letter for letter, members, _ in self._groups for member in members}

    @property
    def swappable(self) -> Iterator[Swappable]:
        """The groups of look-alikes on the card, their members beside each other."""
        for letter, members, apart in self._groups:
            told_by = (
                f"told apart by {apart} only"
                if apart
                else "nothing tells them apart: tag both ends"
            )
            yield Swappable(
                letter,
                f"{members[0].joint} {members[0].key.side}",
                told_by,
                tuple(
                    (each.id, each.service, ports_text(each), each.part, each.remarks)
                    for each in members
                ),
            )

    def on_card(self) -> Iterable[Connection]:
        """The connections that have something left, each once."""
        found = {each.connection.key: each.connection for each in self.todo if each.connection}
        return found.values()

    def items_on_card(self) -> list[Temporary]:
        """The temporary items that have to come off."""
        return [each.item for each in self.todo if each.item is not None]

    def holds(self) -> list[Numbered]:
        """The holds that touch the connections of the card, each once."""
        found = {
            each.label: each
            for connection in self.on_card()
            for each in self.touched.get(connection.key, ())
            if each.finding.severity is Severity.HOLD
        }
        return sorted(found.values(), key=lambda each: each.number)


def _removal(item: Temporary) -> Task:
    blanked = f"on {item.connection}" if item.connection else ""
    rule = item.remove or (f"before {item.connection} is made" if item.connection else "any time")
    return Task(
        DO[Act.REMOVED],
        item.name,
        item.joint,
        item.key.side,
        item.type,
        blanked,
        rule,
        (),
        (),
        "",
        (),
    )


def ports_text(each: Connection) -> str:
    """Both ends with size, form and key: "W-H4 (-6, flare 37) to F-H4 (-6, flare 37)"."""
    one = _end(each.from_port, each.from_size, each.from_end, each.from_key)
    other = _end(each.to_port, each.to_size, each.to_end, each.to_key)
    return f"{one or '?'} to {other or '?'}" if one or other else ""


def _end(port: str, size: str, form: str, key: str) -> str:
    more = ", ".join(text for text in (size, form, f"key {key}" if key else "") if text)
    return f"{port} ({more})" if port and more else port or more


def readings(limits: str) -> tuple[str, ...]:
    """Each thing to measure, with its limit, as the cell says it; what is unclear stays too."""
    if not limits:
        return ()
    read = read_limits(limits)
    if read.unclear or not read.limits:
        return (limits,)
    return tuple(limit.text for limit in read.limits)


def _letter_of(number: int) -> str:
    """A, B ... Z, AA, AB ..."""
    return column_letters(number + 1)
