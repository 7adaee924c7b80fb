"""Filling in a blank workbook by hand, as it were."""

from datetime import date, datetime

import openpyxl

from joinmatrix.lists.table import ListKind
from joinmatrix.reports.blank import headings_of, sheet_name

PLAN = """
connection | joint | side | type | service | from | to | size | timing | closed by | limits
H-01 | outer wing | both | hydraulic line | flaps down | P1 | W1 | -6 | after wing mate | wing fairing | torque 270..300 in-lbf
B-02 | outer wing | both | pin | wing attachment | P2 | W2 | | during wing mate | wing fairing |
"""  # noqa: E501
LISTS = {
    "connections": PLAN
    + "E-03 | outer wing | L | electrical connector | stall warning | P3 | W3 | 9"
    " | after wing mate | wing fairing |",
    "joints": """
    joint | alike sides
    outer wing | L, R
    """,
    "stages": """
    stage | side | after
    wing mate | both |
    wing fairing | both | wing mate
    """,
    "runs": """
    from | to | side | service | half
    W1 | flap jack | both | flaps down | outer wing
    """,
    "differences": """
    joint | connection | side | reason | approved by
    outer wing | E-03 | L | one vane only | ENG-3
    """,
    "temporary": """
    temporary item | joint | side | type | connection | remove
    cap 1 | outer wing | both | cap | H-01 | before H-01
    """,
    "people": """
    person | may | until
    M12 | make | 2031-12-31
    Q4 | make and inspect |
    """,
    "tools": """
    tool | calibrated until | low | high | unit
    TW-1 | 2031-09-30 | 50 | 500 | in-lbf
    """,
    "record": """
    when | connection | stage | item | side | act | by | measure | value | unit | tool | mated to
    2031-03-04 08:00 | | wing mate | | L | started | M12 | | | | |
    2031-03-04 09:00 | B-02 | | | L | made | M12 | | | | | W2
    2031-03-04 10:00 | | wing mate | | L | done | M12 | | | | |
    2031-03-04 10:10 | | | cap 1 | L | removed | M12 | | | | |
    2031-03-04 10:30 | H-01 | | | L | made | M12 | torque | 285 | in-lbf | TW-1 | W1
    2031-03-04 11:00 | E-03 | | | L | made | M12 | | | | | W3
    2031-03-05 08:00 | B-02 | | | L | inspected | Q4 | | | | |
    2031-03-05 08:10 | H-01 | | | L | inspected | Q4 | | | | |
    2031-03-05 08:20 | E-03 | | | L | inspected | Q4 | | | | |
    2031-03-05 09:00 | | wing fairing | | L | started | M12 | | | | |
    2031-03-05 10:00 | | wing fairing | | L | done | M12 | | | | |
    2031-03-06 08:00 | | wing mate | | R | started | M12 | | | | |
    2031-03-06 09:00 | B-02 | | | R | made | M12 | | | | | W2
    2031-03-06 10:00 | | wing mate | | R | done | M12 | | | | |
    2031-03-06 10:10 | | | cap 1 | R | removed | M12 | | | | |
    2031-03-06 10:30 | H-01 | | | R | made | M12 | torque | 286.5 | in-lbf | TW-1 | W1
    2031-03-07 08:00 | B-02 | | | R | inspected | Q4 | | | | |
    2031-03-07 08:10 | H-01 | | | R | inspected | Q4 | | | | |
    2031-03-07 09:00 | | wing fairing | | R | started | M12 | | | | |
    2031-03-07 10:00 | | wing fairing | | R | done | M12 | | | | |
    """,
}


def fill(path, lists, *, first_row=3):
    """Write rows into the sheets of a blank workbook; the first line of each has the headings."""
    book = openpyxl.load_workbook(path)
    for name, text in lists.items():
        kind = ListKind(name)
        headings, *rows = (
            [cell.strip() for cell in line.split("|")] for line in text.strip().splitlines()
        )
        for number, row in enumerate(rows, first_row):
            if number == 2:  # over the example: what is not filled in goes
                for cell in book[sheet_name(kind)][2]:
                    cell.value = None
            for heading, word in zip(headings, row, strict=False):
                if word:
                    column = headings_of(kind).index(heading) + 1
                    book[sheet_name(kind)].cell(number, column, _typed(heading, word))
    book.save(path)


def _typed(heading, word):
    """What a spreadsheet makes of what is typed."""
    if heading in ("until", "calibrated until"):
        return date.fromisoformat(word)
    if heading == "when":
        return datetime.fromisoformat(word)
    return float(word) if heading in ("low", "high", "value") else word
