"""`joinmatrix blank`: an empty workbook to start from."""

from pathlib import Path
from typing import Annotated

import typer

from joinmatrix.cli.options import say


def blank(
    file: Annotated[
        Path, typer.Argument(metavar="FILE.xlsx", help="The workbook to write; a new file.")
    ],
) -> None:
    """Write an empty workbook with all lists, drop-downs and one example row each.

    Comments at the headings say what goes below them. Fill in the lists that you keep, then run
    check on the file. The example rows, which begin with EXAMPLE, are not read.

    Example: joinmatrix blank outer-wing.xlsx
    """
    from joinmatrix.reports.blank import write_blank

    write_blank(file)
    say(f'"{file}" is written: fill in the lists that you keep, then: joinmatrix check "{file}"')
