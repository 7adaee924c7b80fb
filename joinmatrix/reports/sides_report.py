"""The audit of alike sides: on a terminal, and as JSON."""

from collections.abc import Iterable, Iterator, Sequence

from joinmatrix.answers.not_understood import Part
from joinmatrix.answers.sides import Counts, Difference, JointSides, Pair, Sides, Unpaired
from joinmatrix.assembly.model import Assembly
from joinmatrix.findings import Severity, Verdict
from joinmatrix.place import Place
from joinmatrix.reports.answer_head import head_lines, heading_lines, stamp_lines
from joinmatrix.reports.json_text import cells_of, document, troubles_of
from joinmatrix.reports.lines import BOLD, PLAIN, STYLES, Line, Paper, Span
from joinmatrix.reports.text import counted, padded, width, wrapped

FORMAT = "joinmatrix-sides/1"
RESTS_ON = (Part.ROWS, Part.RULES, Part.LIMITS)
MOST_ROWS_OF_A_JOINT = 60
MOST_ROWS = 600  # of all joints together, save those that differ
MOST_JOINTS = 200
_STATE, _EXISTENCE = "state", "existence"
_WORD = 10  # "different" and a space
_NARROWEST_WHY = 24


def sides_lines(
    sides: Sides, assembly: Assembly, paper: Paper, *, full: bool = False
) -> Iterator[Line]:
    """Joint by joint: the pairs, why each was paired, what differs and what was agreed.

    full  every pair of every joint, however many
    """
    yield from head_lines("Alike sides", assembly, RESTS_ON, paper)
    shown = sides.joints if full else sides.joints[:MOST_JOINTS]
    left = MOST_ROWS
    for joint in shown:
        rows = len(joint.pairs) + len(joint.unpaired)
        most = rows if full else MOST_ROWS_OF_A_JOINT if left > 0 else 0
        left -= min(rows, most)
        yield from _joint(joint, paper, most)
    if len(shown) < len(sides.joints):
        yield []
        rest = counted(len(sides.joints) - len(shown), "more joint")
        yield from paper.paragraph(f"{rest}: add --full to see all of them.", 2)
    yield from _agreements(sides, paper)
    yield from _verdict(sides, paper)


def _joint(joint: JointSides, paper: Paper, most: int) -> Iterator[Line]:
    """One joint: its counts, then at most so many rows; one that differs is shown in any case."""
    yield []
    yield paper.plate(f"JOINT  {joint.joint}")
    yield from paper.paragraph(
        _count_text(joint.counts), 2, [(" ".join(map(paper.safe, joint.alike)) + "  ", BOLD)]
    )
    yield []
    rows: list[Pair | Unpaired] = [*joint.pairs, *joint.unpaired]
    if len(rows) > most:
        rows.sort(key=lambda row: _RANK[_word(row)])
        differ = sum(_word(row) in (_DIFFERENT, _ALONE) for row in rows)
        most = max(most, min(differ, MOST_ROWS_OF_A_JOINT))
    layout = _Layout(rows[:most], paper)
    for row in rows[:most]:
        yield from layout.row(row)
    if len(rows) > most:
        yield from paper.paragraph(
            f"{counted(len(rows) - most, 'more row')} not shown: add --full to see all of them; "
            "those that differ stand first.",
            2,
        )


def _count_text(counts: Counts) -> str:
    pairs = counts.equal + counts.agreed + counts.different
    said = [f"{counted(pairs, 'pair')}: {counts.equal:,} equal, {counts.agreed:,} agreed, "
            f"{counts.different:,} different"]  # fmt: skip
    if counts.unpaired or counts.unpaired_agreed:
        said.append(
            f"on one side only: {counts.unpaired_agreed:,} agreed, {counts.unpaired:,} not agreed"
        )
    return "; ".join(said)


# The word of a row, and what it is like; the shape stands before the word.
_DIFFERENT, _AGREED, _EQUAL, _ALONE, _HALF = "different", "agreed", "equal", "alone", "one half"
_RANK = {word: rank for rank, word in enumerate((_DIFFERENT, _ALONE, _HALF, _AGREED, _EQUAL))}


def _word(row: Pair | Unpaired) -> str:
    if isinstance(row, Pair):
        return row.verdict
    if row.one_ended:
        return _HALF
    return _AGREED if row.agreed else _ALONE


def _mark(word: str, paper: Paper) -> Span:
    marks = paper.marks
    shape, style = {
        _DIFFERENT: (marks.severity[Severity.HOLD], STYLES[Severity.HOLD]),
        _ALONE: (marks.severity[Severity.HOLD], STYLES[Severity.HOLD]),
        _HALF: (marks.severity[Severity.NOTE], BOLD),
        _AGREED: (marks.severity[Severity.NOTE], BOLD),
        _EQUAL: (marks.verdict[Verdict.CLEAR], PLAIN),
    }[word]
    return (padded(f"{shape} {word}", _WORD + 2), style)


class _Layout:
    """The rows of one joint: a word, the identifiers with what they carry, why they are a pair."""

    def __init__(self, rows: Iterable[Pair | Unpaired], paper: Paper) -> None:
        self.paper = paper
        room = paper.width - 2 - (_WORD + 2) - 2
        longest = max((width(paper.safe(_name(row))) for row in rows), default=0)
        self.name = min(longest, max(room - _NARROWEST_WHY, room // 2))
        self.why = room - self.name
        self.below = 4

    def row(self, row: Pair | Unpaired) -> Iterator[Line]:
        """A row in as many lines as it takes, and what differs below it."""
        names = wrapped(self.paper.safe(_name(row)), self.name)
        reasons = wrapped(self.paper.safe(_why(row)), self.why)
        for number in range(max(len(names), len(reasons))):
            mark: Span = (" " * (_WORD + 2), PLAIN) if number else _mark(_word(row), self.paper)
            name = names[number] if number < len(names) else ""
            why = reasons[number] if number < len(reasons) else ""
            yield [
                ("  ", PLAIN), mark, (padded(name, self.name + 2), PLAIN if number else BOLD),
                (why, PLAIN),
            ]  # fmt: skip
        yield from self._details(row)

    def _details(self, row: Pair | Unpaired) -> Iterator[Line]:
        if isinstance(row, Pair):
            for difference in row.differences:
                yield from self._difference(difference, len(row.members))
            for each in row.also:
                if each.column != _STATE:
                    label = f"{each.column}, not judged  "
                    yield from self._hanging(label, PLAIN, _values(each.values))
        else:
            yield from self._agreement(row.agreed, row.reason, row.approved, row.lacking)
            if not row.agreed:
                yield from self._cells(row.places)

    def _difference(self, difference: Difference, members: int) -> Iterator[Line]:
        if difference.column == _EXISTENCE:
            yield from self._hanging("", PLAIN, _where(difference))
        else:
            yield from self._column(difference, members)
        yield from self._agreement(
            difference.agreed, difference.reason, difference.approved, difference.lacking
        )
        if not difference.agreed:
            yield from self._cells(difference.places)

    def _column(self, difference: Difference, members: int) -> Iterator[Line]:
        text = _values(difference.values)
        if 0 < len(difference.odd) < members:
            odd = " and ".join(difference.odd)
            text += f" ({odd} {'is' if len(difference.odd) == 1 else 'are'} the odd one out)"
        yield from self._hanging(f"{difference.column}  ", BOLD, text)

    def _agreement(self, agreed: bool, reason: str, by: str, lacking: str) -> Iterator[Line]:
        if agreed:
            text = f"{reason} ({by})" if by else reason
            yield from self._hanging("agreed  ", PLAIN, text)
        elif lacking:
            text = f"an agreed difference names it and lacks its {lacking}"
            yield from self._hanging("not agreed  ", PLAIN, text)

    def _cells(self, places: Sequence[Place]) -> Iterator[Line]:
        if places:
            yield from self.paper.places(places, 4 + _WORD, "cells  ")

    def _hanging(self, label: str, style: str, text: str) -> Iterator[Line]:
        yield from self.paper.paragraph(text, 4 + _WORD, [(self.paper.safe(label), style)])


def _name(row: Pair | Unpaired) -> str:
    if isinstance(row, Pair):
        ids = " / ".join(dict.fromkeys(id_ for _, id_ in row.members))
    else:
        ids = f"{row.connection} {row.side}"
    about = row.service or row.type
    return f"{ids}  {about}" if about else ids


def _why(row: Pair | Unpaired) -> str:
    if isinstance(row, Unpaired):
        only = f"on {row.side} only"
        return f"{only}, and listed by one half only" if row.one_ended else only
    states = [each for each in row.also if each.column == _STATE]
    work = "".join("; " + ", ".join(f"{side} {text}" for side, text in each.values)
                   for each in states)  # fmt: skip
    return _short(row) + work


def _short(pair: Pair) -> str:
    """The reason without the identifiers that stand beside it."""
    ids = " and ".join(id_ for _, id_ in pair.members)
    return pair.why.removeprefix(f"{ids} are ")


def _values(values: Sequence[tuple[str, str]]) -> str:
    return ", ".join(f'{side} "{text}"' if text else f"{side} blank" for side, text in values)


def _where(difference: Difference) -> str:
    """Where some of several alike sides have it: "on 1 and 2, not on 3"."""
    there = " and ".join(side for side, text in difference.values if text)
    missing = " and ".join(side for side, text in difference.values if not text)
    return f"on {there}, not on {missing}"


def _agreements(sides: Sides, paper: Paper) -> Iterator[Line]:
    """Agreements that somebody should look at again."""
    told = [(place, text) for several in (sides.idle, sides.wide) for place, text in several]
    if not told:
        return
    yield from heading_lines("Agreed differences to look at again", paper)
    for place, text in told:
        mark = paper.severity(Severity.NOTE)
        yield from paper.paragraph(text, 2, [mark, ("  ", PLAIN)])
        yield from paper.places((place,), 6, "cells  ")


def _verdict(sides: Sides, paper: Paper) -> Iterator[Line]:
    numbers = _count_text(sides.counts)
    if not sides.joints and not sides.counts.equal:
        yield from stamp_lines(Verdict.CLEAR, "NO DIFFERENCE", "", paper)
    elif sides.open:
        yield from stamp_lines(Verdict.HOLD, f"{sides.open:,} NOT AGREED", numbers, paper)
        yield []
        yield from paper.paragraph(
            "To clear it: correct the lists, or have the difference agreed. --propose FILE.xlsx "
            "writes a differences list of those that are open, for reasons and approval.",
            2,
        )
    else:
        yield from stamp_lines(Verdict.CLEAR, "EVERY DIFFERENCE IS AGREED", numbers, paper)


# --- JSON ----------------------------------------------------------------------------------------


def sides_json(sides: Sides, assembly: Assembly) -> str:
    """The answer as JSON text."""
    return document(
        {
            "format": FORMAT,
            "joints": [_joint_object(joint) for joint in sides.joints],
            "counts": _counts_object(sides.counts),
            "open": sides.open,
            "idle": [{"text": text, "cells": cells_of((place,))} for place, text in sides.idle],
            "wide": [{"text": text, "cells": cells_of((place,))} for place, text in sides.wide],
            "not understood": troubles_of(assembly, RESTS_ON),
        }
    )


def _joint_object(joint: JointSides) -> dict[str, object]:
    return {
        "joint": joint.joint,
        "pairs": [_pair_object(pair) for pair in joint.pairs],
        "unpaired": [_unpaired_object(each) for each in joint.unpaired],
        "alike": joint.alike,
        "counts": _counts_object(joint.counts),
    }


def _pair_object(pair: Pair) -> dict[str, object]:
    return {
        "members": dict(pair.members),
        "why": pair.why,
        "differences": [_difference_object(each) for each in pair.differences],
        "verdict": pair.verdict,
        "not judged": [{"column": each.column, "values": dict(each.values)} for each in pair.also],
    }


def _difference_object(difference: Difference) -> dict[str, object]:
    return {
        "column": difference.column,
        "values": dict(difference.values),
        "agreed": difference.agreed,
        "odd": difference.odd,
        "reason": difference.reason,
        "approved by": difference.approved,
        "lacking": difference.lacking,
        "cells": cells_of(difference.places),
    }


def _unpaired_object(each: Unpaired) -> dict[str, object]:
    return {
        "connection": each.connection,
        "side": each.side,
        "agreed": each.agreed,
        "reason": each.reason,
        "approved by": each.approved,
        "lacking": each.lacking,
        "one-ended": each.one_ended,
        "cells": cells_of(each.places),
    }


def _counts_object(counts: Counts) -> dict[str, object]:
    return {
        "equal": counts.equal,
        "agreed": counts.agreed,
        "different": counts.different,
        "on one side only": counts.unpaired,
        "on one side only, agreed": counts.unpaired_agreed,
    }
