"""The report as JSON, for programs. The names are spelled out by hand.

A field that is renamed inside the program must not change the file, so nothing here is dumped as
it is.
"""

from collections.abc import Iterator

from joinmatrix.assembly.model import Connection, Entry
from joinmatrix.assembly.standing import NOTHING_DONE
from joinmatrix.findings import Finding
from joinmatrix.report import JointSummary, NotRun, Report
from joinmatrix.reports.json_text import cells_of, document, place_object
from joinmatrix.reports.view import WHOLE, Lens, View

FORMAT = "joinmatrix-check/1"
UNDATED = "undated"


def to_json(report: Report, view: View = WHOLE) -> str:
    """The report as JSON text; the same report gives the same bytes.

    A narrowed view leaves out connections, joints and findings. Verdict and row account are
    always those of the whole.
    """
    lens = Lens(report, view)
    return document(
        {
            "format": FORMAT,
            "verdict": report.verdict.value,
            "plan only": report.assembly.plan_only,
            "rows": _rows(report),
            "not used": _not_used(report),
            "connections": _connections(report, lens),
            "joints": map(_joint, filter(lens.summary, report.joints)),
            "findings": map(finding_object, filter(lens.finding, report.findings)),
            "not run": map(_not_run, report.not_run),
            "stopped": map(_not_run, report.crashed),
            "notes": _notes(report),
        }
    )


def finding_object(finding: Finding) -> dict[str, object]:
    """A finding as every JSON answer shows it."""
    return {
        "kind": finding.kind.value,
        "severity": finding.severity.value,
        "joint": finding.joint,
        "side": finding.side,
        "sides": finding.sides,
        "connections": finding.connections,
        "stages": finding.stages,
        "items": finding.items,
        "message": finding.message,
        "clears": finding.clears,
        "cells": cells_of(finding.places),
    }


def time_text(entry: Entry | None) -> str:
    """When the act that counts was done: "2026-03-04 10:30", "undated", "" when it is not done."""
    return "" if entry is None else entry.when.text or UNDATED


def _rows(report: Report) -> Iterator[dict[str, object]]:
    for account in report.reading.accounts:
        yield {
            "file": account.file,
            "sheet": account.sheet,
            "list": account.kind.value,
            "read": account.read,
            "used": account.used,
            "aside": [{"row": row, "why": why} for row, why in account.aside],
        }


def _not_used(report: Report) -> Iterator[dict[str, object]]:
    for each in report.not_used:
        yield {"file": each.file, "sheet": each.sheet, "why": each.why}


def _connections(report: Report, lens: Lens) -> Iterator[dict[str, object]]:
    for each in report.assembly.connections:
        if lens.connection(each):
            yield _connection(each, report)


def _connection(each: Connection, report: Report) -> dict[str, object]:
    standing = report.standings.get(each.key, NOTHING_DONE)
    return {
        "connection": each.id,
        "side": each.key.side,
        "joint": each.joint,
        "type": each.type,
        "service": each.service,
        "state": standing.state.value,
        "made": time_text(standing.made),
        "inspected": time_text(standing.inspected),
    }


def _joint(summary: JointSummary) -> dict[str, object]:
    return {
        "joint": summary.joint,
        "side": summary.side,
        "verdict": summary.verdict.value,
        "connections": summary.connections,
        "made": summary.made,
        "inspected": summary.inspected,
    }


def _not_run(each: NotRun) -> dict[str, object]:
    return {"kinds": [kind.value for kind in each.kinds], "why": each.why}


def _notes(report: Report) -> Iterator[dict[str, object]]:
    for place, text in (*report.reading.notes, *report.assembly.notes):
        yield {**place_object(place), "text": text}
