"""Findings that say the same of several connections, told together.

Forty lines that say of forty connections that they are not made hide the one that matters. All
connections are named and all cells given; only the sentence stands once.
"""

from collections.abc import Sequence
from itertools import groupby

from joinmatrix.findings import Finding, Severity
from joinmatrix.reports.matrix import Numbered

GROUP_ABOVE = 12  # fewer findings of one severity are told one by one
LEAST_GROUP = 3


def together(here: Sequence[Numbered]) -> list[Sequence[Numbered]]:
    """Findings of one severity, in their order; a hold always stands by itself."""
    if len(here) <= GROUP_ABOVE or here[0].finding.severity is Severity.HOLD:
        return [[each] for each in here]
    entries: list[Sequence[Numbered]] = []
    for _, alike in groupby(here, key=_likeness):
        several = list(alike)
        entries += [several] if len(several) >= LEAST_GROUP else [[each] for each in several]
    return entries


def _likeness(each: Numbered) -> tuple[object, ...]:
    finding = each.finding
    said = (of_each(finding, finding.message), of_each(finding, finding.clears))
    return (finding.kind, finding.joint, finding.sides, *said)


def of_each(finding: Finding, text: str) -> str:
    """The sentence as it can be said of each of several connections."""
    for name in finding.connections:
        text = text.replace(f'"{name}"', "each")
    return text
