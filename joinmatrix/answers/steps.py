"""Acts as the answers about order name them, and what asks for them."""

from typing import NamedTuple

from joinmatrix.assembly.model import Act, Assembly
from joinmatrix.errors import CallError
from joinmatrix.lists import words
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.timing.progress import Task
from joinmatrix.timing.stages import names_of
from joinmatrix.timing.wording import about


class Step(NamedTuple):
    """One act on a connection, a stage or a temporary item; the other two names are "".

    side   "" for what is once for all
    joint  "" for stages, and for items that name none
    """

    act: str
    connection: str
    item: str
    stage: str
    side: str
    joint: str

    def __str__(self) -> str:
        name = self.connection or self.item or self.stage
        return f'"{name}" {self.side} {self.act}' if self.side else f'"{name}" {self.act}'


def step_of(assembly: Assembly, task: Task) -> Step:
    """An act with its names as written."""
    who = about(assembly, (task.subject, task.key))
    return Step(
        task.act.value,
        "".join(who.connections),
        "".join(who.items),
        "".join(who.stages),
        who.side,
        who.joint,
    )


def done_text(assembly: Assembly, task: Task, side: str) -> str:
    """An act as something that is waited for: `"gear down" is done`, `"H-7" R is made`."""
    who = about(assembly, (task.subject, task.key))
    on = f" {who.side}" if who.side not in ("", side) else ""
    verb = "has started" if task.act is Act.STARTED else f"is {task.act}"
    return f"{who.name}{on} {verb}"


def stage_sides(assembly: Assembly, name: str, side: str | None) -> tuple[str, tuple[str, ...]]:
    """The folded name of a stage of a call, and the sides of it that are meant.

    name    with or without its side: "wing mate", "wing mate L"
    side    None for every side
    raises  CallError for an unknown stage (with the nearest names), or one not on that side
    """
    names = names_of(assembly)
    key = folded(name)
    said: tuple[str, ...] = ()
    if key not in names.sides:
        apart = names.reader.vocabulary.side_at_end(key)
        if apart is not None and apart[0] in names.sides:
            key, said = apart
    if key not in names.sides:
        written = list(dict.fromkeys(stage.name for stage in names.stages.values()))
        near = quoted_list(nearest(name, written) or written[:12])
        if not near:
            raise CallError(f'there is no stage "{name}"', "No list names a stage")
        raise CallError(f'there is no stage "{name}"', f"Ask for {near}")
    on = names.sides[key]
    wanted = said if side is None else (_label(on, side),)
    if not wanted or on == ("",):
        return key, on
    if not set(wanted) <= set(on):
        there = quoted_list(on, "and")
        raise CallError(f'stage "{name}" is not on side {quoted_list(wanted)}', f"It is on {there}")
    return key, wanted


def _label(on: tuple[str, ...], side: str) -> str:
    """The label that a side word of the call means, where the stage has it."""
    for label in on:
        if folded(label) == folded(side):
            return label
    return words.side_word(side) or side
