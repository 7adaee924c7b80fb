"""`joinmatrix trace`: the whole route of a port."""

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
    show,
    write,
)


def trace(
    port: Annotated[str, typer.Argument(help='The port, with or without its side: "W-H3 R".')],
    paths: Paths,
    side: Annotated[
        str | None,
        typer.Option(
            "--side", metavar="SIDE", help="Its side, when several sides have such a port."
        ),
    ] = None,
    unit: Unit = None,
    output: AnswerFormat = AnswerOutput.TERMINAL,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
) -> None:
    """Follow a port through runs and joints to its ends, and show where the way is open.

    Shows what it carries, each connection on the way with its state, where it is not made or
    mated to another port, and where the like route of the other side goes another way.

    Examples:

    joinmatrix trace "W-H3 R" lists/

    joinmatrix trace W-H3 lists/ --side R --format json
    """
    from joinmatrix import library
    from joinmatrix.reports.trace_report import trace_json, trace_lines

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    with patience("reading the lists"):
        assembly = library.merge(paths, unit=unit, how=how)
    found = library.trace(assembly, port, side)
    if output is AnswerOutput.JSON:
        write(trace_json(found, assembly))
    else:
        show(lambda paper: trace_lines(found, assembly, paper))
