"""`joinmatrix changes`: what a new issue of the lists alters and undoes."""

from pathlib import Path
from typing import Annotated

import typer

from joinmatrix.cli.options import (
    AnswerFormat,
    AnswerOutput,
    Bound,
    Encoding,
    SkipHidden,
    Unit,
    how_to_read,
    patience,
    show,
    write,
)


def changes(
    old: Annotated[Path, typer.Argument(metavar="OLD", help="File or folder with the old issue.")],
    new: Annotated[Path, typer.Argument(metavar="NEW", help="File or folder with the new issue.")],
    both: Annotated[
        list[Path] | None,
        typer.Option(
            "--with",
            metavar="PATH",
            help="A file or folder that belongs to both issues, such as the record; "
            "may be given again.",
        ),
    ] = None,
    unit: Unit = None,
    output: AnswerFormat = AnswerOutput.TERMINAL,
    full: Annotated[bool, typer.Option("--full", help="Show every entry, however many.")] = False,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
) -> None:
    """Compare two issues of the lists, and say which recorded work the new one undoes.

    Both are held against the record of the new issue, or of the old one when the new comes
    without. Exit code 1 when work that is recorded no longer holds.

    Examples:

    joinmatrix changes issue-A/ issue-B/

    joinmatrix changes lines-A.xlsx lines-B.xlsx --with record.csv --with plan.xlsx
    """
    from joinmatrix import library
    from joinmatrix.reports.changes_report import changes_json, changes_lines

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    with patience("reading both issues"):
        before, after = library.issues(
            [old, *(both or ())], [new, *(both or ())], unit=unit, how=how
        )
    found = library.changes(before, after)
    if output is AnswerOutput.JSON:
        write(changes_json(found, after))
    else:
        show(lambda paper: changes_lines(found, after, paper, full=full))
    raise typer.Exit(found.exit_code)
