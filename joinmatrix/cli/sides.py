"""`joinmatrix sides`: what differs between alike sides."""

from pathlib import Path
from typing import Annotated

import typer

from joinmatrix.cli.options import (
    AnswerFormat,
    AnswerOutput,
    Bound,
    Encoding,
    Paths,
    SkipHidden,
    Unit,
    how_to_read,
    patience,
    say,
    show,
    write,
)


def sides(
    paths: Paths,
    joint: Annotated[
        str, typer.Option("--joint", metavar="JOINT", help="Audit this joint only.")
    ] = "",
    differences_only: Annotated[
        bool, typer.Option("--differences-only", help="Leave out the pairs that are equal.")
    ] = False,
    propose: Annotated[
        Path | None,
        typer.Option(
            "--propose",
            metavar="FILE.xlsx",
            help="Write a differences list with the open ones, for reasons and approval.",
        ),
    ] = None,
    unit: Unit = None,
    output: AnswerFormat = AnswerOutput.TERMINAL,
    full: Annotated[
        bool, typer.Option("--full", help="Show every pair of every joint, however many.")
    ] = False,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
) -> None:
    """Pair the connections of alike sides, and show what differs and what was agreed.

    Each pair says why it is one. Exit code 1 when something differs that nobody agreed.

    Examples:

    joinmatrix sides lists/ --differences-only

    joinmatrix sides lists/ --joint "outer wing"

    joinmatrix sides lists/ --propose to-agree.xlsx
    """
    from joinmatrix import library
    from joinmatrix.reports.sides_report import sides_json, sides_lines

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    with patience("reading the lists"):
        assembly = library.merge(paths, unit=unit, how=how)
    found = library.sides(assembly, joint=joint, differences_only=differences_only)
    if propose is not None:
        say(library.propose(found, propose, paths))
    if output is AnswerOutput.JSON:
        write(sides_json(found, assembly))
    else:
        show(lambda paper: sides_lines(found, assembly, paper, full=full))
    raise typer.Exit(found.exit_code)
