"""Reports made by hand, so that the outputs are tested without any check."""

from dataclasses import replace

from joinmatrix.assembly.model import Assembly
from joinmatrix.assembly.standing import State, standings
from joinmatrix.findings import Finding, Kind, Severity, verdict_of
from joinmatrix.lists.table import NotUsed
from joinmatrix.names import folded
from joinmatrix.place import Place
from joinmatrix.report import JointSummary, NotRun, Report
from tests.builders import assembly_of, reading_of, table

LINES = """
connection | joint | side | type | service | from | to | from size | to size | place | timing | inspect | closed by | limits
H-01 | outer wing | both | hydraulic line | brake pressure | W1 | F1 | -6 | -6 | | after outer wing mate | | fairing fitted | torque 135..150 in-lbf
H-02 | outer wing | both | hydraulic line | brake return | W2 | F2 | -6 | -6 | | after outer wing mate | | | torque 135..150 in-lbf
H-03 | outer wing | L | hydraulic line | float retract | W3 | F3 | -4 | -4 | | after outer wing mate | | fairing fitted |
C-01 | outer wing | L | control cable | aileron up | WC1 | FC1 | | | before outer wing mate | after outer wing mate L; before rigging | after rigging | |
C-01 | outer wing | R | control cable | aileron up | WC1 | FC1 | | | before outer wing mate | after outer wing mate R; before rigging | after rigging | |
E-10 | outer wing | both | electrical connector | navigation light, landing light and float position switch | J10 | P10 | 20 | 20 | | any time | | |
B-01 | tail cone | C | bolt | | TB1 | HB1 | 3/8 | 3/8 | before tail mate | within 2 days of tail mate | | |
C-20 | tail cone | L | control rod | elevator | TC1 | HC1 | | | | after tail mate | after rigging | |
C-20 | tail cone | R | control rod | elevator | TC1 | HC1 | | | | after tail mate | after rigging | |
"""  # noqa: E501
RECORD = """
when | connection | stage | side | act | by
2031-03-01T08:00 | | outer wing mate | L | started | AB
2031-03-01T10:30 | | outer wing mate | L | done | AB
2031-03-01 | C-01 | | L | placed | AB
2031-03-02T09:15 | H-01 | | L | made | AB
2031-03-02 | H-01 | | L | inspected | CD
2031-03-02 | H-02 | | L | made | AB
2031-03-02 | C-01 | | L | made | AB
2031-03-03 | C-01 | | L | inspected | CD
2031-03-04T16:20 | C-01 | | L | opened | AB
2031-03-03 | C-20 | | L | made | AB
2031-03-03 | C-20 | | L | inspected | AB
"""


def cell(row: int, column: int, file: str = "lists/wing.xlsx", sheet: str = "Joins") -> Place:
    return Place(file, sheet, row, column)


FINDINGS = (
    Finding(
        Kind.UNMADE, Severity.HOLD,
        'C-01 L was opened on 2031-03-04 16:20 and is not made again, but "rigging" has started',
        "make C-01 L again and have it inspected",
        (cell(5, 11), cell(10, 5, "lists/record.csv", "")),
        joint="outer wing", sides=("L",), connections=("C-01",), stages=("rigging",),
    ),
    Finding(
        Kind.ASYMMETRIC, Severity.HOLD,
        "H-03 float retract is listed on L and not on R, and no agreed difference covers it",
        "list H-03 on R, or have the difference agreed with its reason",
        (cell(4, 1),),
        joint="outer wing", sides=("L",), connections=("H-03",),
    ),
    Finding(
        Kind.UNMADE, Severity.OPEN, "H-02 R brake return is not made yet", "make H-02 R",
        (cell(3, 1),), joint="outer wing", sides=("R",), connections=("H-02",),
    ),
    Finding(
        Kind.LOOKALIKE, Severity.NOTE,
        "H-01 brake pressure and H-02 brake return have the same type, size, ends and keys: they "
        "can be swapped by hand",
        "tag both ends before making them",
        (cell(2, 1), cell(3, 1)),
        joint="outer wing", sides=("L", "R"), connections=("H-01", "H-02"),
    ),
    Finding(
        Kind.SELF_INSPECTED, Severity.HOLD, "C-20 L elevator was made and inspected by AB",
        "have C-20 L inspected by someone else",
        (cell(12, 6, "lists/record.csv", ""),),
        joint="tail cone", sides=("L",), connections=("C-20",), items=("AB",),
    ),
    Finding(
        Kind.UNREADABLE, Severity.NOTE,
        'stage "riging" differs from "rigging" by a letter', "correct the name",
        (cell(9, 11),), stages=("riging",),
    ),
)  # fmt: skip


def report_on(
    assembly: Assembly, findings: tuple[Finding, ...] = (), reading=None, **options
) -> Report:
    stand = standings(assembly)
    return Report(
        reading or reading_of(),
        assembly,
        stand,
        tuple(summaries(assembly, findings)),
        findings,
        **options,
    )


def summaries(assembly: Assembly, findings: tuple[Finding, ...]):
    stand = standings(assembly)
    groups = {}
    for each in assembly.connections:
        groups.setdefault(each.joint_key, {}).setdefault(each.key.side, []).append(each)
    for sides in groups.values():
        for side, here in sides.items():
            states = [stand[each.key].state for each in here]
            concerned = [
                finding
                for finding in findings
                if folded(finding.joint) == here[0].joint_key
                and (not finding.sides or side in finding.sides)
            ]
            yield JointSummary(
                here[0].joint,
                side,
                verdict_of(concerned),
                len(here),
                sum(state is not State.LISTED for state in states),
                sum(state in (State.MADE, State.INSPECTED) for state in states),
                sum(state is State.INSPECTED for state in states),
            )


def wing_report(*, plan: bool = False) -> Report:
    """Two joints in the middle of their build-up, with a finding of each severity."""
    lines = table("connections", LINES, file="lists/wing.xlsx", sheet="Joins")
    record = table("record", RECORD, file="lists/record.csv", sheet="")
    tables = (lines,) if plan else (lines, record)
    reading = reading_of(*tables)
    accounts = list(reading.accounts)
    accounts[0] = replace(
        accounts[0],
        read=12,
        aside=((11, "blank identifier"), (12, "blank identifier"), (14, "a total, not a row")),
    )
    reading = replace(
        reading,
        accounts=tuple(accounts),
        not_used=(NotUsed("lists/wing.xlsx", "Notes", "no heading of it is that of a list"),),
        notes=(
            (cell(7, 1), "hidden row, read like any other"),
            (cell(8, 1), "hidden row, read like any other"),
        ),
    )
    return report_on(
        assembly_of(*tables),
        FINDINGS[1:2] + FINDINGS[3:4] if plan else FINDINGS,
        reading,
        not_run=(
            NotRun((Kind.NOT_AUTHORISED,), "no people list was given"),
            NotRun((Kind.OUT_OF_CALIBRATION,), "no tools list was given"),
        ),
    )
