"""Paths in, a report out: the story of the program."""

import gc
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from joinmatrix.assembly.merge import assemble
from joinmatrix.assembly.model import Assembly, Key
from joinmatrix.assembly.sides import LEFT_AND_RIGHT
from joinmatrix.assembly.standing import Standing, State, standings
from joinmatrix.checks.check import Check
from joinmatrix.checks.registry import ALL
from joinmatrix.errors import InputError
from joinmatrix.findings import Finding, Kind, strict, verdict_of
from joinmatrix.lists.bounds import PLAINLY, HowToRead
from joinmatrix.lists.reader import read
from joinmatrix.lists.table import ListKind, Reading, RowAccount, Source
from joinmatrix.names import folded
from joinmatrix.report import JointSummary, NotRun, Report

_FEW = 5  # sheets named in a message about lists that are missing


def verify(
    paths: Sequence[str | Path],
    *,
    as_of: str | None = None,
    unit: str | None = None,
    for_sign_off: bool = False,
    how: HowToRead = PLAINLY,
) -> Report:
    """Read the lists under the paths, merge them, run every check.

    paths         files and folders
    as_of         ISO date or time at which to judge; by default the latest time of the record
    unit          serial of the unit; needed when the record holds several
    for_sign_off  weigh findings strictly: open work holds, and so does an order not shown
    how           bounds, hidden rows and encoding for the reading
    raises        InputError for what cannot be read, CallError for a unit or time that is none
    """
    with _collector_at_rest():
        return report_on(lists_of(paths, how), as_of=as_of, unit=unit, for_sign_off=for_sign_off)


def assembly_of(
    paths: Sequence[str | Path],
    *,
    as_of: str | None = None,
    unit: str | None = None,
    how: HowToRead = PLAINLY,
) -> Assembly:
    """Read the lists under the paths and merge them, without any check; see `verify`."""
    with _collector_at_rest():
        return merged(lists_of(paths, how), as_of=as_of, unit=unit)


def lists_of(paths: Sequence[str | Path], how: HowToRead = PLAINLY) -> Reading:
    """Everything that can be read under the paths.

    raises  InputError for a file that cannot be used, or when there is none
    """
    reading = read(paths, bounds=how.bounds, skip_hidden=how.skip_hidden, encoding=how.encoding)
    if not reading.files:
        where = ", ".join(map(str, paths))
        remedy = "name the files or the folder that have the lists"
        raise InputError(where, "there is no .xlsx or .csv file in it", remedy)
    return reading


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Reading and merging make millions of small things that all stay, and nothing in a circle.

    Python's cycle collector would walk through them again and again, which doubles the time of a
    large run and finds nothing.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def report_on(
    reading: Reading,
    *,
    as_of: str | None = None,
    unit: str | None = None,
    for_sign_off: bool = False,
    checks: Sequence[Check] = ALL,
) -> Report:
    """The report on lists that have been read already; see `verify`."""
    assembly = merged(reading, as_of=as_of, unit=unit)
    findings, not_run, crashed = _run(checks, assembly)
    if for_sign_off:
        findings = [strict(finding) for finding in findings]
    findings = [_sides_in_order(finding, assembly) for finding in findings]
    stand = standings(assembly)
    findings.sort(key=lambda finding: finding.sort_key)
    return Report(
        replace(reading, accounts=tuple(_accounts(reading, assembly.aside))),
        assembly,
        stand,
        tuple(_summaries(assembly, stand, findings)),
        tuple(findings),
        tuple(not_run),
        tuple(crashed),
    )


def merged(reading: Reading, *, as_of: str | None = None, unit: str | None = None) -> Assembly:
    """One assembly of lists that have been read already; never one without connections."""
    assembly = assemble(reading, as_of=as_of, unit=unit)
    _require_connections(reading, assembly)
    return assembly


def _require_connections(reading: Reading, assembly: Assembly) -> None:
    """Nothing to check is not a pass."""
    if assembly.connections:
        return
    for trouble in reading.troubles + assembly.troubles:
        raise InputError(str(trouble.place), trouble.found, trouble.remedy)
    files = reading.files
    where = f"{len(files)} files" if len(files) > 3 else ", ".join(files)
    if ListKind.CONNECTIONS in assembly.given:
        raise InputError(where, "the connections list has headings and no row", "list connections")
    seen = "; ".join(
        f"{each.sheet or each.file}: {each.why}" for each in reading.not_used[:_FEW]
    ) + ("; ..." if len(reading.not_used) > _FEW else "")
    raise InputError(
        where,
        "no connections list was found" + (f" ({seen})" if seen else ""),
        'a connections list needs the headings "connection", "joint", "side" and "type"',
    )


def _run(
    checks: Sequence[Check], assembly: Assembly
) -> tuple[list[Finding], list[NotRun], list[NotRun]]:
    """Every finding; the checks that did not run; those that stopped on a fault of the program."""
    findings: list[Finding] = []
    off: defaultdict[str, list[Kind]] = defaultdict(list)
    crashed: list[NotRun] = []
    for check in checks:
        if check.needs is not None and check.needs not in assembly.given:
            off[f"no {check.needs} list was given"].append(check.kind)
        elif check.acts and assembly.plan_only:
            off["nothing is recorded yet: this is the plan"].append(check.kind)
        else:
            try:
                findings.extend(check.run(assembly))
            except Exception as fault:  # one check's fault must not hide the others
                crashed.append(NotRun((check.kind,), f"{type(fault).__name__}: {fault}"))
    not_run = [NotRun(tuple(dict.fromkeys(kinds)), why) for why, kinds in off.items()]
    return findings, not_run, crashed


def _sides_in_order(finding: Finding, assembly: Assembly) -> Finding:
    """The sides as the joint orders them, whichever row was read first."""
    if len(finding.sides) < 2:
        return finding
    alike = assembly.alike.get(folded(finding.joint), LEFT_AND_RIGHT)
    order = {side: number for number, side in enumerate(alike)}
    sides = sorted(finding.sides, key=lambda side: (order.get(side, len(order)), side))
    return finding if list(finding.sides) == sides else replace(finding, sides=tuple(sides))


def _accounts(reading: Reading, aside: Iterable[tuple[Source, str]]) -> Iterator[RowAccount]:
    """The row accounts, with the rows that merging set aside moved from used to aside."""
    more: defaultdict[tuple[str, str, ListKind], dict[int, str]] = defaultdict(dict)
    for (table, index), why in aside:
        more[table.file, table.sheet, table.kind].setdefault(table.rows[index], why)
    for account in reading.accounts:
        rows = more.get((account.file, account.sheet, account.kind))
        if rows:
            together = tuple(sorted({**dict(account.aside), **rows}.items()))
            account = replace(account, used=account.read - len(together), aside=together)
        yield account


def _summaries(
    assembly: Assembly, stand: dict[Key, Standing], findings: Iterable[Finding]
) -> Iterator[JointSummary]:
    """How far each side of each joint is, in reading order of joints and of sides."""
    states: defaultdict[tuple[str, str], list[State]] = defaultdict(list)
    for connection in assembly.connections:
        key = connection.key
        states[connection.joint_key, key.side].append(stand[key].state)
    by_joint: defaultdict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        by_joint[folded(finding.joint)].append(finding)
    for joint in assembly.joints:
        sides = [side for key, side in states if key == joint.key]
        order = {side: number for number, side in enumerate(assembly.alike.get(joint.key, ()))}
        for side in sorted(sides, key=lambda side: (order.get(side, len(order)), side)):
            here = states[joint.key, side]
            concerned = [
                finding
                for finding in by_joint[joint.key]
                if not finding.sides or side in finding.sides
            ]
            yield JointSummary(
                joint.name,
                side,
                verdict_of(concerned),
                len(here),
                len(here) - here.count(State.LISTED),
                here.count(State.MADE) + here.count(State.INSPECTED),
                here.count(State.INSPECTED),
            )


__all__ = ["Report", "assembly_of", "merged", "report_on", "verify"]
