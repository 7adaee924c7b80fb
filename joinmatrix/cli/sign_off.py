"""`joinmatrix sign-off`: the strict check, and a sealed statement when it is clear."""

from pathlib import Path
from typing import Annotated

import typer

from joinmatrix.cli.options import (
    AnswerFormat,
    AnswerOutput,
    AsOf,
    Paths,
    Unit,
    patience,
    show,
    write,
)
from joinmatrix.errors import CallError


def sign_off(
    paths: Paths,
    by: Annotated[
        str, typer.Option("--by", metavar="NAME", help="Who signs off; stands on the statement.")
    ] = "",
    statement: Annotated[
        Path | None,
        typer.Option(
            "--output", metavar="FILE.json", help="Write the sealed statement, when it is clear."
        ),
    ] = None,
    page: Annotated[
        Path | None,
        typer.Option(
            "--page",
            metavar="FILE.html",
            help="Write the statement as a page to print and sign, when it is clear.",
        ),
    ] = None,
    recheck: Annotated[
        Path | None,
        typer.Option(
            "--recheck",
            metavar="STATEMENT",
            help="Say whether the lists still are what this statement says, and what changed.",
        ),
    ] = None,
    as_of: AsOf = None,
    unit: Unit = None,
    output: AnswerFormat = AnswerOutput.TERMINAL,
    brief: Annotated[
        bool, typer.Option("--brief", help="One line for each finding that holds.")
    ] = False,
) -> None:
    """Check strictly, and state what was clear on exactly which lists.

    Open work holds here, and so does an order that the record does not show. A statement is
    made only when nothing holds, and never for a plan. Exit code 0 when it is clear, else 1.

    It supports the release by the licensed person and does not replace it.

    Examples:

    joinmatrix sign-off lists/ --by "A. Name"

    joinmatrix sign-off lists/ --by "A. Name" --output unit-7.json --page unit-7.html

    joinmatrix sign-off lists/ --recheck unit-7.json
    """
    if recheck is not None:
        if by or statement or page or as_of or unit:
            raise CallError(
                "a recheck takes name, time and unit from the statement, and writes nothing",
                "Give --recheck without --by, --output, --page, --as-of and --unit",
            )
        _recheck(recheck, paths, output)
    if (statement or page) and not by.strip():
        raise CallError("a statement says who made it", 'Add --by "NAME"')
    from joinmatrix import library
    from joinmatrix.reports.sign_off_report import sign_off_json, sign_off_lines

    with patience("reading and checking the lists"):
        answer = library.sign_off(paths, by=by, as_of=as_of, unit=unit, output=statement, page=page)
    if output is AnswerOutput.JSON:
        write(sign_off_json(answer))
    else:
        written = [each for each in (statement, page) if each is not None]
        show(lambda paper: sign_off_lines(answer, paper, written=written, brief=brief))
    raise typer.Exit(answer.exit_code)


def _recheck(statement: Path, paths: list[Path], output: AnswerOutput) -> None:
    from joinmatrix import library
    from joinmatrix.reports.sign_off_report import recheck_json, recheck_lines

    with patience("reading and checking the lists"):
        answer = library.recheck(statement, paths)
    if output is AnswerOutput.JSON:
        write(recheck_json(answer))
    else:
        show(lambda paper: recheck_lines(answer, paper))
    raise typer.Exit(answer.exit_code)
