"""`joinmatrix check`: the report."""

from typing import Annotated

import typer

from joinmatrix.cli.options import AsOf, Format, OutputFormat, Paths, Unit, write
from joinmatrix.findings import Kind


def check(
    paths: Paths,
    joint: Annotated[
        list[str] | None,
        typer.Option("--joint", metavar="NAME", help="Show this joint only; may be given again."),
    ] = None,
    side: Annotated[
        list[str] | None,
        typer.Option("--side", metavar="SIDE", help="Show this side only; may be given again."),
    ] = None,
    kind: Annotated[
        list[Kind] | None,
        typer.Option(
            "--kind",
            metavar="KIND",
            help="Show findings of this kind only; may be given again. "
            "joinmatrix explain lists the kinds.",
        ),
    ] = None,
    as_of: AsOf = None,
    unit: Unit = None,
    output: Format = OutputFormat.TERMINAL,
    brief: Annotated[
        bool, typer.Option("--brief", help="One line for each finding, and no matrix.")
    ] = False,
    full: Annotated[
        bool, typer.Option("--full", help="Show every row of every joint, however many.")
    ] = False,
) -> None:
    """Read the lists and the record, and report what is not right.

    Shows what was read, the matrix of each joint, the findings and the verdict. --joint, --side
    and --kind narrow what is shown; the verdict is always of the whole.

    Examples:

    joinmatrix check lists/

    joinmatrix check hull.xlsx wing.xlsx --joint "outer wing" --side L

    joinmatrix check lists/ --format json > report.json
    """
    from joinmatrix.reports.view import View, require_known
    from joinmatrix.verify import verify

    report = verify(paths, as_of=as_of, unit=unit)
    view = View(tuple(joint or ()), tuple(side or ()), tuple(kind or ()), brief, full)
    require_known(view, report)
    if output is OutputFormat.JSON:
        from joinmatrix.reports.json_report import to_json

        write(to_json(report, view))
    elif output is OutputFormat.CSV:
        from joinmatrix.reports.csv_report import to_csv

        write(to_csv(report, view))
    else:
        from rich.console import Console

        from joinmatrix.reports import terminal

        terminal.write(report, Console(highlight=False), view)
    raise typer.Exit(report.exit_code)
