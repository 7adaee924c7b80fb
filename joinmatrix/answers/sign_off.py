"""Is everything made, in order, within limits and inspected, and on exactly which lists?

The strict check, and when it is clear a sealed statement: what was looked at, down to the row, so
that anybody can see later whether the same lists still give the same answer.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from joinmatrix.answers.safe_write import refuse_inputs, write_whole
from joinmatrix.answers.seals import (
    Change,
    FileSeal,
    Seals,
    changes,
    changes_of_files,
    seal_files,
    seal_tables,
)
from joinmatrix.answers.statement import (
    Agreed,
    Count,
    Statement,
    Unchecked,
    program_version,
    read_statement,
    statement_bytes,
)
from joinmatrix.checks.asymmetric import audited
from joinmatrix.errors import CallError
from joinmatrix.findings import Severity, Verdict
from joinmatrix.lists.bounds import DEFAULT_BOUNDS
from joinmatrix.lists.files import walk
from joinmatrix.report import Report
from joinmatrix.verify import verify

_READ_AS_LISTS = (".csv", ".tsv", ".tab", ".xlsx", ".xlsm", ".ods")


@dataclass(frozen=True)
class SignOff:
    """The answer of a sign-off.

    statement  None when it was refused
    refused    why, clauses; empty when it is clear
    """

    report: Report
    statement: Statement | None
    refused: tuple[str, ...] = ()

    @property
    def exit_code(self) -> int:
        """0 when it is clear, else 1."""
        return 0 if self.statement is not None else 1


@dataclass(frozen=True)
class Recheck:
    """Whether the lists still are what a statement says, and still give its answer.

    changes  what differs in the lists, down to file, sheet and row
    answer   what differs in the answer, clauses
    program  the version that made the statement, where it is another than this one
    """

    statement: Statement
    report: Report
    changes: tuple[Change, ...]
    answer: tuple[str, ...]
    program: str = ""

    @property
    def holds(self) -> bool:
        """The same lists, and the same answer."""
        return not self.changes and not self.answer

    @property
    def exit_code(self) -> int:
        """0 when it holds, else 1."""
        return 0 if self.holds else 1


def sign_off(
    paths: Sequence[str | Path],
    *,
    by: str = "",
    as_of: str | None = None,
    unit: str | None = None,
    output: str | Path | None = None,
) -> SignOff:
    """The strict check of the lists; when it is clear, the statement, written when asked to.

    by      who asks for it; it stands on the statement, and one that is kept must have it
    output  the JSON file to write; nothing is written unless it is clear
    raises  InputError for what cannot be read or written, CallError for an output that is one of
            the lists, a missing name, an unknown unit or time
    """
    if output is not None:
        if not by.strip():
            raise CallError("a statement says who made it", "Give the name of whoever signs it off")
        _refuse_output(Path(output), paths)
    before = seal_files(paths)
    report = verify(paths, as_of=as_of, unit=unit, for_sign_off=True)
    refused = tuple(_refusals(report, before, seal_files(paths)))
    if refused:
        return SignOff(report, None, refused)
    statement = _statement(report, before, by.strip(), as_of or "")
    if output is not None:
        write_whole(Path(output), statement_bytes(statement))
    return SignOff(report, statement)


def recheck(statement_path: str | Path, paths: Sequence[str | Path]) -> Recheck:
    """Whether the lists under the paths still are what a statement says.

    raises  InputError for a statement that is none or was altered, and for unreadable lists
    """
    statement = read_statement(statement_path)
    before = seal_files(paths)
    report = verify(
        paths, as_of=statement.as_of or None, unit=statement.unit or None, for_sign_off=True
    )
    now = Seals(before, seal_tables(report.reading.tables))
    program = program_version()
    return Recheck(
        statement,
        report,
        (*changes(statement.inputs, now), *changes_of_files(before, seal_files(paths))),
        tuple(_other_answers(statement, report)),
        statement.program if statement.program != program else "",
    )


def _refuse_output(output: Path, paths: Sequence[str | Path]) -> None:
    refuse_inputs(output, [each.path for each in walk(paths, DEFAULT_BOUNDS).inputs])
    if output.suffix.lower() in _READ_AS_LISTS:
        raise CallError(f'"{output}" would be read as a list', "give it a name that ends in .json")


def _refusals(
    report: Report, before: tuple[FileSeal, ...], after: tuple[FileSeal, ...]
) -> Iterator[str]:
    if report.assembly.plan_only:
        yield "nothing is recorded: this is a plan, and a plan cannot be signed off"
    for each in report.crashed:
        kinds = ", ".join(kind.value for kind in each.kinds)
        yield f"the check {kinds} stopped on a fault of the program"
    holds = report.count(Severity.HOLD)
    if holds:
        yield f"{holds} findings hold" if holds > 1 else "1 finding holds"
    elif report.verdict is not Verdict.CLEAR and not report.crashed:
        yield f"the verdict is {report.verdict}"
    for change in changes_of_files(before, after):
        yield f"{change.file} changed while it was read: {change.what}"


def _statement(report: Report, files: tuple[FileSeal, ...], by: str, as_of: str) -> Statement:
    notes = Counter(
        finding.kind.value for finding in report.findings if finding.severity is Severity.NOTE
    )
    return Statement(
        unit=report.assembly.unit,
        date=datetime.now().astimezone().isoformat(timespec="seconds"),
        by=by,
        program=program_version(),
        as_of=as_of,
        counts=_counts(report),
        agreed=tuple(_agreed(report)),
        unchecked=tuple(
            Unchecked(tuple(kind.value for kind in each.kinds), each.why) for each in report.not_run
        ),
        notes=dict(sorted(notes.items())),
        inputs=Seals(files, seal_tables(report.reading.tables)),
    )


def _counts(report: Report) -> tuple[Count, ...]:
    return tuple(
        Count(each.joint, each.side, each.connections, each.made, each.inspected)
        for each in report.joints
    )


def _agreed(report: Report) -> Iterator[Agreed]:
    """The agreed differences without which it would not be clear, each once."""
    found = audited(report.assembly)
    relied_on = {
        agreement.row: agreement
        for items in found.items.values()
        for item in items
        for agreement in item.agreed
    }
    for each in report.assembly.differences:
        if each.row in relied_on:
            del relied_on[each.row]
            table, index = each.row
            yield Agreed(
                each.joint, each.connection, each.service, each.row.text("side"), each.column,
                each.reason, each.approved_by, table.file, table.sheet, table.rows[index],
            )  # fmt: skip


def _other_answers(statement: Statement, report: Report) -> Iterator[str]:
    if report.assembly.plan_only:
        yield "nothing is recorded any more"
    if report.verdict is not Verdict.CLEAR:
        holds = report.count(Severity.HOLD)
        yield f"the strict check is no longer clear: {holds} hold"
    if report.assembly.unit != statement.unit:
        yield f'the unit is "{report.assembly.unit}", the statement is about "{statement.unit}"'
    now, then = set(_counts(report)), set(statement.counts)
    for count in statement.counts:
        if count not in now:
            yield f"{count.joint} {count.side}: no longer {_count_text(count)}"
    for count in _counts(report):
        if count not in then:
            yield f"{count.joint} {count.side}: now {_count_text(count)}"


def _count_text(count: Count) -> str:
    return f"{count.connections} connections, {count.made} made, {count.inspected} inspected"
