"""`joinmatrix next`: what may be done now, and what waits."""

from typing import Annotated

import typer

from joinmatrix.cli.options import (
    AnswerFormat,
    AnswerOutput,
    AsOf,
    Bound,
    Doer,
    Encoding,
    Paths,
    SkipHidden,
    Unit,
    how_to_read,
    patience,
    show,
    write,
)


def next_acts(
    paths: Paths,
    joint: Annotated[
        str, typer.Option("--joint", metavar="JOINT", help="Only the acts at this joint.")
    ] = "",
    side: Annotated[
        str, typer.Option("--side", metavar="SIDE", help="Only the acts on this side.")
    ] = "",
    doer: Annotated[
        Doer | None, typer.Option("--for", help="Only the acts of a mechanic, or an inspector.")
    ] = None,
    connection: Annotated[
        str,
        typer.Option(
            "--connection",
            metavar="ID",
            help="From which stage to which stage each act of this connection may happen.",
        ),
    ] = "",
    as_of: AsOf = None,
    unit: Unit = None,
    output: AnswerFormat = AnswerOutput.TERMINAL,
    full: Annotated[bool, typer.Option("--full", help="Show every act, however many.")] = False,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
) -> None:
    """Show what may be done now, most urgent first, and what everything else waits for.

    Urgent is what should have been done already, then what the nearest stage closes on.

    Examples:

    joinmatrix next lists/

    joinmatrix next lists/ --joint "outer wing" --side L --for inspector

    joinmatrix next lists/ --connection H-07
    """
    from joinmatrix import library

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    with patience("reading the lists"):
        assembly = library.merge(paths, as_of=as_of, unit=unit, how=how)
    if connection:
        from joinmatrix.reports.next_report import window_json, window_lines

        windows = library.windows(assembly, connection, side or None)
        if output is AnswerOutput.JSON:
            write(window_json(windows, assembly))
        else:
            show(lambda paper: window_lines(windows, assembly, paper))
        return
    from joinmatrix.reports.next_report import next_json, next_lines

    found = library.next_acts(assembly, joint=joint, side=side, doer=doer)
    if output is AnswerOutput.JSON:
        write(next_json(found, assembly))
        return
    narrowed = " ".join(filter(None, (joint, side, f"for the {doer}" if doer else "")))
    show(lambda paper: next_lines(found, assembly, paper, narrowed=narrowed, full=full))
