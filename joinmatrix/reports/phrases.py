"""Each kind of finding in a few words of the trade, and what a finding is about."""

from joinmatrix.findings import Finding, Kind, Severity, Verdict
from joinmatrix.reports.text import some

MOST_NAMES = 60
# Shapes that differ without their colour; the letter beside each says the same.
SHAPES: dict[str, str] = {"hold": "■", "open": "□", "note": "◊", "clear": "●"}
MARKS = {word: shape + word[0].upper() for word, shape in SHAPES.items()}

SEVERITY_MEANS = {
    Severity.HOLD: "stops work",
    Severity.OPEN: "still to do",
    Severity.NOTE: "to know",
}
VERDICT_MEANS = {
    Verdict.HOLD: "work stops here until every hold is cleared",
    Verdict.OPEN: "nothing stops work; work is still to do",
    Verdict.CLEAR: "nothing stops work and nothing is left to do",
}
KIND_MEANS = {
    Kind.UNMADE: "not made yet",
    Kind.DUPLICATE: "there twice",
    Kind.MIS_SEQUENCED: "done out of order",
    Kind.CONTRADICTION: "rules that cannot all be met",
    Kind.UNPROVEN: "order not shown by the record",
    Kind.ASYMMETRIC: "sides differ",
    Kind.CONFLICT: "lists disagree",
    Kind.ONE_ENDED: "listed by one half only",
    Kind.MISMATCHED: "ends that cannot mate, or may not",
    Kind.CROSSED: "mated to the wrong port",
    Kind.BROKEN_ROUTE: "route not joined",
    Kind.JOINED_ROUTES: "routes joined that are not one",
    Kind.UNINSPECTED: "made, not inspected yet",
    Kind.SELF_INSPECTED: "inspected by who made it",
    Kind.LAPSED: "inspection no longer counts",
    Kind.OUT_OF_LIMITS: "reading outside its limits",
    Kind.NO_READING: "no reading recorded",
    Kind.LEFT_FITTED: "still fitted, must come off",
    Kind.UNLISTED: "in no list",
    Kind.NOT_AUTHORISED: "done by someone who may not",
    Kind.OUT_OF_CALIBRATION: "tool not in calibration",
    Kind.LOOKALIKE: "can be swapped by hand",
    Kind.UNREADABLE: "not understood",
}


def where(finding: Finding) -> str:
    """The joint and the sides: "outer wing L, R"."""
    sides = ", ".join(finding.sides)
    if finding.joint:
        return f"{finding.joint} {sides}".rstrip()
    return f"side {sides}" if sides else "the assembly"


def about(finding: Finding, most: int = MOST_NAMES) -> str:
    """The connections that it is about, else the stages, else the items."""
    names = finding.connections or finding.stages or finding.items
    return some(names, most) or KIND_MEANS[finding.kind]
