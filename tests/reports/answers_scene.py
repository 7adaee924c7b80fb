"""A wing in the middle of its build-up, for the outputs of every answer."""

from joinmatrix.assembly.model import Assembly
from joinmatrix.reports.lines import Paper, plain
from tests.builders import assembly_of, table

LINES = """
connection | joint | side | type | service | from | to | size | place | timing | inspect | closed by | limits
H-01 | outer wing | both | hydraulic line | brake pressure | W1 | F1 | -6 | | after outer wing mate | | fairing fitted | torque 135..150 in-lbf
H-02 | outer wing | both | hydraulic line | brake return | W2 | F2 | -6 | | after outer wing mate | | |
H-03 | outer wing | L | hydraulic line | float retract | W3 | F3 | -4 | | after outer wing mate | | fairing fitted |
C-01-LH | outer wing | L | control cable | aileron up | WC1 | FC1 | | before outer wing mate | after outer wing mate; before rigging | | |
C-01-RH | outer wing | R | control cable | aileron up | WC1 | FC1 | | before outer wing mate | after outer wing mate; before rigging | after rigging | |
E-10 | outer wing | L | electrical connector | navigation light | J10 | P10 | 20 | | any time | | |
E-10 | outer wing | R | electrical connector | navigation light | J10 | P10 | 22 | | any time | | |
V-01 | tip float | both | hydraulic line | brake pressure | T1 | U1 | -6 | | after float mate; at least 24 h after H-01 | | |
"""  # noqa: E501
STAGES = """
stage | side | after
outer wing mate | both |
float mate | both | outer wing mate
fairing fitted | both | outer wing mate
rigging | | fairing fitted
"""
RUNS = """
from | to | side | half | service
F1 | T1 | both | outer wing | brake pressure
F1 | X9 | R | outer wing |
"""
DIFFERENCES = """
joint | connection | side | column | reason | approved by
outer wing | E-10 | | size | the right one feeds two lamps | ENG-2
outer wing | H-02 | | size | as designed | ENG-2
"""
TEMPORARY = """
temporary item | joint | side | type | connection | remove
blank 7 | outer wing | R | blanking plug | H-01 | before outer wing mate
wing sling | outer wing | both | sling | | after outer wing mate; before rigging
"""
RECORD = """
when | connection | stage | item | side | act | by | mated to
2031-02-28 | C-01-LH | | | L | placed | AB |
2031-03-01T08:00 | | outer wing mate | | L | started | AB |
2031-03-01T10:30 | | outer wing mate | | L | done | AB |
2031-03-02T09:15 | H-01 | | | L | made | AB | F2
2031-03-02T11:00 | H-02 | | | L | made | AB | F1
2031-03-02T13:00 | C-01-LH | | | L | made | AB |
2031-03-03 | C-01-LH | | | L | inspected | CD |
2031-03-03T07:00 | E-10 | | | L | made | AB |
"""


def wing(*, plan: bool = False, lines: str = LINES) -> Assembly:
    """The assembly, with its record or before anything is done."""
    tables = [
        table("connections", lines, file="lists/wing.xlsx", sheet="Joins"),
        table("stages", STAGES, file="lists/plan.xlsx", sheet="Stages"),
        table("runs", RUNS, file="lists/wing.xlsx", sheet="Runs"),
        table("differences", DIFFERENCES, file="lists/plan.xlsx", sheet="Agreed"),
        table("temporary", TEMPORARY, file="lists/plan.xlsx", sheet="Temporary"),
    ]
    if not plan:
        tables.append(table("record", RECORD, file="lists/record.csv", sheet=""))
    return assembly_of(*tables)


def on_paper(lines_on, cells: int = 80, encoding: str = "utf-8") -> str:
    """What an answer looks like on paper of a width and an encoding."""
    return plain(lines_on(Paper(cells, encoding)))
