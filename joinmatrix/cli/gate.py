"""`joinmatrix gate`: may a stage start?"""

from typing import Annotated

import typer

from joinmatrix.cli.options import (
    AnswerFormat,
    AnswerOutput,
    AsOf,
    Bound,
    Encoding,
    Paths,
    SkipHidden,
    Unit,
    how_to_read,
    patience,
    show,
    write,
)


def gate(
    stage: Annotated[
        str,
        typer.Argument(metavar="STAGE", help='The stage, with or without its side: "gear down".'),
    ],
    paths: Paths,
    side: Annotated[
        str | None,
        typer.Option("--side", metavar="SIDE", help="Ask for this side only. Default: all sides."),
    ] = None,
    as_of: AsOf = None,
    unit: Unit = None,
    output: AnswerFormat = AnswerOutput.TERMINAL,
    full: Annotated[bool, typer.Option("--full", help="Show every act, however many.")] = False,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
) -> None:
    """Say whether a stage may start: go, or hold with all that must be done first.

    Shows what must still be placed, made, inspected, removed or finished, directly or through
    other stages, with the rule and its cell; what was done out of order before it; and what
    will be out of reach once it has started. Exit code 0 go, 1 hold.

    Examples:

    joinmatrix gate "outer wing mate" lists/ --side R

    joinmatrix gate "wing root fairing L" lists/ --format json
    """
    from joinmatrix import library
    from joinmatrix.reports.gate_report import gate_json, gate_lines

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    with patience("reading the lists"):
        assembly = library.merge(paths, as_of=as_of, unit=unit, how=how)
    found = library.gate(assembly, stage, side)
    if output is AnswerOutput.JSON:
        write(gate_json(found))
    else:
        show(lambda paper: gate_lines(found, assembly, paper, full=full))
    raise typer.Exit(0 if found.go else 1)
