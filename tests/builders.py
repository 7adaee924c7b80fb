"""Lists written as text in a test, so that each test reads alone."""

from joinmatrix.assembly.merge import assemble
from joinmatrix.assembly.model import Assembly
from joinmatrix.lists.table import ListKind, Reading, RowAccount, Table
from joinmatrix.report import Report


def table(kind: str, text: str, *, file: str = "", sheet: str = "Sheet") -> Table:
    """A list from lines of cells parted by "|"; the first line has the headings, in row 1."""
    lines = [[cell.strip() for cell in line.split("|")] for line in text.strip().splitlines()]
    headings, *rows = lines
    rows = [row + [""] * (len(headings) - len(row)) for row in rows]
    return Table(
        ListKind(kind),
        file or f"{kind}.xlsx",
        sheet,
        {name: number for number, name in enumerate(headings, 1)},
        list(range(2, len(rows) + 2)),
        {name: [row[number] for row in rows] for number, name in enumerate(headings)},
    )


def reading_of(*tables: Table) -> Reading:
    """What the reader would give for these lists."""
    return Reading(
        files=tuple(dict.fromkeys(each.file for each in tables)),
        tables=tables,
        accounts=tuple(
            RowAccount(each.file, each.sheet, each.kind, len(each.rows), len(each.rows))
            for each in tables
        ),
    )


def assembly_of(*tables: Table, **options: str) -> Assembly:
    """The assembly that these lists describe."""
    return assemble(reading_of(*tables), **options)


def report_of(*tables: Table, **options: str) -> Report:
    """The report on these lists."""
    from joinmatrix.verify import report_on

    return report_on(reading_of(*tables), **options)


def cells(finding) -> list[str]:
    """The cells of a finding as "connections.xlsx!D2"."""
    return [f"{place.file}!{place.cell}" for place in finding.places]
