"""Every answer of the command line in one call, for notebooks and other programs.

Each takes the lists as paths, or as a report or an assembly that is there already.
"""

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from joinmatrix.answers.safe_write import refuse_inputs, write_whole
from joinmatrix.assembly.model import Assembly
from joinmatrix.assembly.record import units_of
from joinmatrix.errors import CallError
from joinmatrix.lists.bounds import DEFAULT_BOUNDS, PLAINLY, HowToRead
from joinmatrix.lists.files import walk
from joinmatrix.lists.words import side_word
from joinmatrix.names import folded, nearest, quoted_list
from joinmatrix.report import Report
from joinmatrix.verify import assembly_of, lists_of, merged
from joinmatrix.verify import verify as verify_paths

if TYPE_CHECKING:
    from joinmatrix.answers.changes import Changes
    from joinmatrix.answers.gate import Gate
    from joinmatrix.answers.next_acts import Next
    from joinmatrix.answers.sequence import Sequence as Order
    from joinmatrix.answers.sides import Sides
    from joinmatrix.answers.sign_off import Recheck, SignOff
    from joinmatrix.answers.spare_rules import SpareRule
    from joinmatrix.answers.stage_order import StageOrder
    from joinmatrix.answers.trace import Trace
    from joinmatrix.answers.window import Window

Paths: TypeAlias = str | Path | Sequence[str | Path]
Lists: TypeAlias = Paths | Report | Assembly


def verify(
    paths: Paths,
    *,
    as_of: str | None = None,
    unit: str | None = None,
    for_sign_off: bool = False,
    how: HowToRead = PLAINLY,
) -> Report:
    """Read the lists under the paths, merge them, run every check; see `joinmatrix.verify`."""
    return verify_paths(_paths(paths), as_of=as_of, unit=unit, for_sign_off=for_sign_off, how=how)


def merge(
    lists: Lists,
    *,
    as_of: str | None = None,
    unit: str | None = None,
    how: HowToRead = PLAINLY,
) -> Assembly:
    """The lists merged, without any check.

    as_of, unit  as for `verify`; a report or an assembly has them already
    how          bounds, hidden rows and encoding for the reading
    raises       InputError for what cannot be read, CallError for a unit or time that is none, or
                 one that is asked of a report or an assembly
    """
    if isinstance(lists, (Report, Assembly)):
        if as_of is not None or unit is not None:
            raise CallError(
                "unit and time are settled when the lists are read", "Give them to verify"
            )
        return lists.assembly if isinstance(lists, Report) else lists
    return assembly_of(_paths(lists), as_of=as_of, unit=unit, how=how)


def _paths(lists: Paths) -> Sequence[str | Path]:
    return [lists] if isinstance(lists, (str, Path)) else lists


def gate(
    lists: Lists,
    stage: str,
    side: str | None = None,
    *,
    as_of: str | None = None,
    unit: str | None = None,
) -> "Gate":
    """Whether a stage may start; see `joinmatrix.answers.gate`."""
    from joinmatrix.answers.gate import gate

    return gate(merge(lists, as_of=as_of, unit=unit), stage, side)


def next_acts(
    lists: Lists,
    *,
    joint: str = "",
    side: str = "",
    doer: str | None = None,
    as_of: str | None = None,
    unit: str | None = None,
) -> "Next":
    """What may be done now and what waits; see `joinmatrix.answers.next_acts`.

    joint, side  only the acts there, and those that concern all
    doer         "mechanic" or "inspector": only their acts
    raises       CallError for a joint, a side or a doer that is none
    """
    from joinmatrix.answers.next_acts import Doer, next_acts

    assembly = merge(lists, as_of=as_of, unit=unit)
    if joint:
        _require("joint", joint, [each.name for each in assembly.joints])
    if side:
        side = _require("side", side, dict.fromkeys(key.side for key in assembly.by_key))
    if doer is not None and doer not in set(Doer):
        raise CallError(f'"{doer}" does no acts', f"Ask for {quoted_list(Doer)}")
    return next_acts(assembly, joint=joint, side=side, doer=Doer(doer) if doer else None)


def _require(what: str, asked: str, known: Iterable[str]) -> str:
    """The one of the known names that is asked for; a side may be in any usual spelling."""
    there = {folded(each): each for each in known}
    usual = side_word(asked) if what == "side" else None
    found = there.get(folded(asked)) or there.get(folded(usual or ""))
    if found is None:
        near = nearest(asked, there.values()) or list(there.values())
        raise CallError(f'no {what} is called "{asked}"', f"Known: {quoted_list(near[:8])}")
    return found


def windows(
    lists: Lists,
    connection: str,
    side: str | None = None,
    *,
    as_of: str | None = None,
    unit: str | None = None,
) -> "tuple[Window, ...]":
    """When each act of a connection may happen; see `joinmatrix.answers.window`."""
    from joinmatrix.answers.window import windows

    return windows(merge(lists, as_of=as_of, unit=unit), connection, side)


def sequence(lists: Lists, *, as_of: str | None = None, unit: str | None = None) -> "Order":
    """One order of all that is left, or why there is none; see `joinmatrix.answers.sequence`."""
    from joinmatrix.answers.sequence import sequence

    return sequence(merge(lists, as_of=as_of, unit=unit))


def stage_order(lists: Lists, *, as_of: str | None = None, unit: str | None = None) -> "StageOrder":
    """Which stage comes after which; see `joinmatrix.answers.stage_order`."""
    from joinmatrix.answers.stage_order import stage_order

    return stage_order(merge(lists, as_of=as_of, unit=unit))


def spare_rules(lists: Lists) -> "tuple[SpareRule, ...]":
    """The timing rules that go without saying; see `joinmatrix.answers.spare_rules`."""
    from joinmatrix.answers.spare_rules import spare_rules

    return spare_rules(merge(lists))


def trace(lists: Lists, port: str, side: str | None = None, *, unit: str | None = None) -> "Trace":
    """The whole route of a port; see `joinmatrix.answers.trace`."""
    from joinmatrix.answers.trace import trace

    return trace(merge(lists, unit=unit), port, side)


def sides(
    lists: Lists, *, joint: str = "", differences_only: bool = False, unit: str | None = None
) -> "Sides":
    """The pairs of alike sides and what differs; see `joinmatrix.answers.sides`."""
    from joinmatrix.answers.sides import sides

    return sides(merge(lists, unit=unit), joint=joint, differences_only=differences_only)


def propose(found: "Sides", output: str | Path, inputs: Paths = ()) -> str:
    """Write the open differences as a differences list for reasons and approval; says what it did.

    output  a new .xlsx; a file that is there is never written over, it may hold reasons already
    inputs  the paths that were read, so that none of them is meant
    """
    from joinmatrix.reports.differences_sheet import differences_workbook

    target = Path(output)
    if target.suffix.lower() != ".xlsx":
        raise CallError(f'"{output}" is no name for a workbook', "It must end in .xlsx")
    refuse_inputs(target, [each.path for each in walk(_paths(inputs), DEFAULT_BOUNDS).inputs])
    if target.exists():
        raise CallError(f'"{output}" is there already', "Name a new file, or move that one away")
    if not found.proposal:
        return f"every difference is agreed, so {output} was not written"
    write_whole(target, differences_workbook(found))
    number = len(found.proposal)
    return f"{output} was written with {number} {'difference' if number == 1 else 'differences'}"


def changes(old: Lists, new: Lists, *, unit: str | None = None) -> "Changes":
    """What a new issue of the lists alters and undoes; see `joinmatrix.answers.changes`."""
    from joinmatrix.answers.changes import changes

    return changes(*issues(old, new, unit=unit))


def issues(
    old: Lists, new: Lists, *, unit: str | None = None, how: HowToRead = PLAINLY
) -> tuple[Assembly, Assembly]:
    """Both issues merged. The unit is that of the one record, where only one issue brings it."""
    if unit is None or isinstance(old, (Report, Assembly)) or isinstance(new, (Report, Assembly)):
        return merge(old, unit=unit, how=how), merge(new, unit=unit, how=how)
    before, after = lists_of(_paths(old), how), lists_of(_paths(new), how)
    has_units = [bool(units_of(each.tables)) for each in (before, after)]
    if not any(has_units):
        has_units = [True, True]  # so that the unit is refused
    return (
        merged(before, unit=unit if has_units[0] else None),
        merged(after, unit=unit if has_units[1] else None),
    )


def sign_off(
    paths: Paths,
    *,
    by: str = "",
    as_of: str | None = None,
    unit: str | None = None,
    output: str | Path | None = None,
    page: str | Path | None = None,
) -> "SignOff":
    """The strict check and, when it is clear, the statement; see `joinmatrix.answers.sign_off`.

    output  the JSON file to write
    page    a page of HTML to print and sign, written when it is clear
    """
    from joinmatrix.answers.sign_off import sign_off

    if page is not None:
        _refuse_page(Path(page), paths, by, output)
    answer = sign_off(_paths(paths), by=by, as_of=as_of, unit=unit, output=output)
    if page is not None and answer.statement is not None:
        from joinmatrix.reports.statement_page import to_statement_page

        text = to_statement_page(answer.statement)
        write_whole(Path(page), text.encode("utf-8", "backslashreplace"))
    return answer


def _refuse_page(page: Path, paths: Paths, by: str, output: str | Path | None) -> None:
    """See that a page may be written there, before anything is."""
    if not by.strip():
        raise CallError("a statement says who made it", "Give the name of whoever signs it off")
    if page.suffix.lower() not in (".html", ".htm"):
        raise CallError(f'"{page}" is no name for a page', "It must end in .html")
    refuse_inputs(page, [each.path for each in walk(_paths(paths), DEFAULT_BOUNDS).inputs])
    if output is not None and page.resolve() == Path(output).resolve():
        raise CallError("statement and page cannot be one file", "Name two")


def recheck(statement: str | Path, paths: Paths) -> "Recheck":
    """Whether the lists still are what a statement says; see `joinmatrix.answers.sign_off`."""
    from joinmatrix.answers.sign_off import recheck

    return recheck(statement, _paths(paths))
