"""How rules, moments and acts read in a sentence."""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import (
    Act,
    Assembly,
    Connection,
    Entry,
    Key,
    Moment,
    Temporary,
)
from joinmatrix.lists.table import Source
from joinmatrix.place import Place
from joinmatrix.timing.bounds import CLOSED_BY, Bound, Ref, RuleText, rule_cells, rules_of
from joinmatrix.timing.judge import Subject

_HOUR, _DAY = 60, 24 * 60


def duration_text(minutes: int) -> str:
    """A time as a rule writes it: "30 min", "1 h 30 min", "24 h", "3 days"."""
    if minutes and minutes % _DAY == 0 and minutes > _DAY:
        return f"{minutes // _DAY} days"
    hours, rest = divmod(minutes, _HOUR)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def on_text(when: Moment) -> str:
    """A moment behind "was made": " on 2026-03-04 10:30", or that it is not recorded."""
    return f" on {when.text}" if when.text else " at a time that is not recorded"


def ref_text(assembly: Assembly, ref: Ref, side: str | None = "") -> str:
    """A stage or connection in quotes, with its side where that is not the one talked about."""
    if ref.subject == "stage":
        name = rules_of(assembly).names.stages[ref.key].name
    else:
        name = assembly.by_key[ref.key].id
    return named(name, ref.key, side)


def named(name: str, key: Key, side: str | None = "") -> str:
    """A name in quotes, with its side where that is not the one talked about."""
    return f'"{name}"' if key.side in ("", side) else f'"{name}" {key.side}'


def said(rule: RuleText) -> str:
    """The rule as it is written: `its timing says "after gear down"`."""
    if rule.column == CLOSED_BY:
        return f'it is closed by "{rule.text}"'
    if rule.column == "connection":
        return f'it blanks off "{rule.text}"'
    what = {"place": "its rule for placing", "inspect": "its rule for inspection"}
    what |= {"remove": "its rule for removal", "after": 'its "after"'}
    return f'{what.get(rule.column, f"its {rule.column}")} says "{rule.text}"'


def demand(bound: Bound, ref: str) -> str:
    """What a bound asks: `after "gear down" is done`, `at least 24 h after "seal" is done`."""
    state = {Act.STARTED: "starts", Act.DONE: "is done", Act.MADE: "is made"}[bound.at]
    if bound.after:
        if bound.at is Act.STARTED:
            state = "has started"
        lag = f"at least {duration_text(bound.gap)} " if bound.gap else ""
        return f"{lag}after {ref} {state}"
    if bound.gap:
        return f"within {duration_text(bound.gap)} after {ref} {state}"
    return f"before {ref} {state}"


def acted(name: str, act: Act, entry: Entry) -> str:
    """What was recorded: `"H-07" was made on 2026-03-04`; of a placing, how it is known."""
    if entry.act is act:
        return f"{name} was {act.value}{on_text(entry.when)}"
    if act is Act.PLACED:
        return f"{name} was placed at some time before it was {entry.act}{on_text(entry.when)}"
    return f"{name} was {act.value} by the time it was {entry.act}{on_text(entry.when)}"


class About(NamedTuple):
    """What carries a rule, as findings name it.

    name  in quotes
    rows  the rows it was read from
    """

    name: str
    side: str
    rows: tuple[Source, ...]
    joint: str = ""
    connections: tuple[str, ...] = ()
    stages: tuple[str, ...] = ()
    items: tuple[str, ...] = ()


def about(assembly: Assembly, subject: Subject) -> About:
    """The connection, stage or temporary item behind a subject."""
    kind, key = subject
    if kind == "connection":
        connection = assembly.by_key[key]
        return About(
            f'"{connection.id}"', key.side, connection.rows, connection.joint, (connection.id,)
        )
    if kind == "stage":
        stage = rules_of(assembly).names.stages[key]
        return About(f'"{stage.name}"', key.side, stage.rows, stages=(stage.name,))
    item = items_by_key(assembly)[key]
    return About(f'"{item.name}"', key.side, item.rows, item.joint, items=(item.name,))


@lru_cache(maxsize=8)
def items_by_key(assembly: Assembly) -> Mapping[Key, Temporary]:
    """The temporary items by their keys."""
    return {item.key: item for item in assembly.temporary}


def cells_of(
    own: Iterable[Entry | None],
    rows: Sequence[Source],
    rules: Iterable[RuleText],
    others: Iterable[Entry | None],
) -> tuple[Place, ...]:
    """The cells behind a judgement: what was recorded, the rule, and what it is measured by."""
    cells = [entry.cell() for entry in own if entry is not None]
    for rule in rules:
        cells += rule_cells(rows, rule)
    cells += [entry.cell() for entry in others if entry is not None]
    return tuple(dict.fromkeys(cells))


def several(connections: Iterable[Connection]) -> str:
    """One name, or the first few and how many more."""
    return some_of(dict.fromkeys(f'"{connection.id}"' for connection in connections))


def some_of(names: Iterable[str]) -> str:
    """Names that are in quotes, the same way."""
    names = list(names)
    if len(names) > 3:
        return f"{names[0]}, {names[1]} and {len(names) - 2} more"
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
