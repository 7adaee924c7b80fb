"""What a new issue of the lists changes and undoes: on a terminal, and as JSON."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from joinmatrix.answers.changes import Altered, Changes, Listed
from joinmatrix.answers.not_understood import Part
from joinmatrix.assembly.model import Assembly
from joinmatrix.findings import Severity, Verdict
from joinmatrix.place import Place
from joinmatrix.reports.answer_head import (
    caution_lines,
    hanging_lines,
    heading_lines,
    stamp_lines,
    title_lines,
)
from joinmatrix.reports.json_report import finding_object
from joinmatrix.reports.json_text import cells_of, document, troubles_of
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.matrix import numbered
from joinmatrix.reports.terminal_findings import finding_lines
from joinmatrix.reports.view import View

FORMAT = "joinmatrix-changes/1"
RESTS_ON = tuple(Part)
_MOST_ENTRIES = 200


def changes_lines(
    changes: Changes, new: Assembly, paper: Paper, *, full: bool = False
) -> Iterator[Line]:
    """What was added, dropped and altered, and the recorded work that no longer holds.

    full  every entry, however many
    """
    unit = f"  unit {new.unit}" if new.unit else ""
    yield from title_lines(f"Changes from the old issue to the new one{unit}", paper)
    yield from caution_lines(new, RESTS_ON, paper)
    if changes.not_compared:
        kinds = ", ".join(changes.not_compared)
        yield []
        yield from paper.paragraph(
            f"{kinds}: only one of the two issues has such a list.",
            first=[("NOT COMPARED  ", BOLD)],
        )
    most = None if full else _MOST_ENTRIES
    yield from _listed("Added", changes.added, paper, most)
    yield from _listed("Dropped", changes.dropped, paper, most)
    yield from _altered(changes.altered, paper, most)
    title = "Recorded work that it undoes"
    yield from finding_lines(paper, View(full=full), numbered(changes.undone), title)
    yield from _verdict(changes, paper)


class _Entry(NamedTuple):
    """Things of one name, on whatever sides, that changed alike."""

    what: str
    name: str
    joint: str
    sides: list[str]
    places: list[Place]

    @property
    def where(self) -> str:
        """The joint and the sides, as far as it has them."""
        return " ".join(text for text in (self.joint, ", ".join(self.sides)) if text)

    def lines(self, said: Iterable[str], paper: Paper) -> Iterator[Line]:
        """What it is, its name and where it is; what is said of it; the cells."""
        gap = "  " if self.where else ""
        lead: Line = [(f"{self.what}  ", PLAIN), (paper.safe(self.name) + gap, BOLD)]
        yield from hanging_lines(lead, self.where, paper)
        for text in said:
            yield from paper.paragraph(text, 6)
        yield from paper.places(dict.fromkeys(self.places), 6, "cells  ")

    def add(self, side: str, places: Iterable[Place]) -> None:
        """Take in a further side."""
        if side and side not in self.sides:
            self.sides.append(side)
        self.places.extend(places)


def _listed(title: str, listed: Sequence[Listed], paper: Paper, most: int | None) -> Iterator[Line]:
    yield from heading_lines(f"{title} ({len(listed):,})", paper)
    entries: dict[tuple[str, str, str], _Entry] = {}
    for each in listed:
        key = (each.what, each.joint, each.name)
        entry = entries.setdefault(key, _Entry(each.what, each.name, each.joint, [], []))
        entry.add(each.side, each.places)
    for entry in list(entries.values())[:most]:
        yield from entry.lines((), paper)
    yield from _rest(len(entries), most, paper)


def _altered(altered: Sequence[Altered], paper: Paper, most: int | None) -> Iterator[Line]:
    """One entry for each thing, with all columns that changed on the same sides."""
    yield from heading_lines(f"Altered ({len(altered):,})", paper)
    columns: dict[tuple[str, ...], _Entry] = {}
    for each in altered:
        key = (each.what, each.joint, each.name, each.column, each.old, each.new)
        entry = columns.setdefault(key, _Entry(each.what, each.name, each.joint, [], []))
        entry.add(each.side, each.places)
    things: dict[tuple[str, ...], tuple[_Entry, list[str]]] = {}
    for (what, joint, name, column, old, new), entry in columns.items():
        thing, said = things.setdefault((what, joint, name, entry.where), (entry, []))
        said.append(_became(what, column, old, new))
        if thing is not entry:
            thing.places.extend(entry.places)
    for thing, said in list(things.values())[:most]:
        yield from thing.lines(said, paper)
    yield from _rest(len(things), most, paper)


def _became(what: str, column: str, old: str, new: str) -> str:
    if column == what:
        return f'was "{old}" before, the same under a new name'
    return f"{column}  {_quoted(old)} became {_quoted(new)}"


def _quoted(text: str) -> str:
    return f'"{text}"' if text else "blank"


def _rest(entries: int, most: int | None, paper: Paper) -> Iterator[Line]:
    if not entries:
        yield from paper.paragraph("nothing", 2)
    if most is not None and entries > most:
        yield from paper.paragraph(f"and {entries - most:,} more: add --full to see them all", 2)


def _verdict(changes: Changes, paper: Paper) -> Iterator[Line]:
    numbers = (
        f"{len(changes.added):,} added, {len(changes.dropped):,} dropped, "
        f"{len(changes.altered):,} altered"
    )
    holds = sum(finding.severity is Severity.HOLD for finding in changes.undone)
    if holds:
        yield from stamp_lines(Verdict.HOLD, f"UNDOES RECORDED WORK ({holds:,})", numbers, paper)
    elif changes.undone:
        number = len(changes.undone)
        words = f"RECORDED WORK TO LOOK AT ({number:,})"
        yield from stamp_lines(Verdict.OPEN, words, numbers, paper)
    else:
        yield from stamp_lines(Verdict.CLEAR, "UNDOES NOTHING", numbers, paper)


# --- JSON ----------------------------------------------------------------------------------------


def changes_json(changes: Changes, new: Assembly) -> str:
    """The answer as JSON text. What is no connection has a blank `connection`, and a name."""
    return document(
        {
            "format": FORMAT,
            "added": [_listed_object(each) for each in changes.added],
            "dropped": [_listed_object(each) for each in changes.dropped],
            "altered": [_altered_object(each) for each in changes.altered],
            "undone": [finding_object(each) for each in changes.undone],
            "not compared": [kind.value for kind in changes.not_compared],
            "not understood": troubles_of(new, RESTS_ON),
        }
    )


def _listed_object(each: Listed) -> dict[str, object]:
    return {
        "connection": each.name if each.what == "connection" else "",
        "side": each.side,
        "joint": each.joint,
        "what": each.what,
        "name": each.name,
        "cells": cells_of(each.places),
    }


def _altered_object(each: Altered) -> dict[str, object]:
    return {
        "connection": each.name if each.what == "connection" else "",
        "side": each.side,
        "column": each.column,
        "old": each.old,
        "new": each.new,
        "joint": each.joint,
        "what": each.what,
        "name": each.name,
        "cells": cells_of(each.places),
    }
