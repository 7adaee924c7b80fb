"""`joinmatrix sequence`: one order of all that is left to do."""

from typing import Annotated

import typer

from joinmatrix.cli.options import (
    AsOf,
    Bound,
    Encoding,
    Format,
    OutputFormat,
    Paths,
    SkipHidden,
    Unit,
    how_to_read,
    patience,
    show,
    write,
)


def sequence(
    paths: Paths,
    spare_rules: Annotated[
        bool,
        typer.Option("--spare-rules", help="Show the rules that go without saying as well."),
    ] = False,
    as_of: AsOf = None,
    unit: Unit = None,
    output: Format = OutputFormat.TERMINAL,
    full: Annotated[bool, typer.Option("--full", help="Show every act, however many.")] = False,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
) -> None:
    """Give one order of all that is left to do which meets every rule, stage by stage.

    Shows which stage comes after which and how far each is, then every act in its turn, with
    the earliest and the latest time where a rule has a duration. When no order meets the
    rules, shows the smallest circle of rules that cannot all be met; exit code 1.

    Examples:

    joinmatrix sequence lists/

    joinmatrix sequence lists/ --format csv > plan.csv
    """
    from joinmatrix import library
    from joinmatrix.reports.sequence_report import sequence_csv, sequence_json, sequence_lines

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    with patience("reading the lists"):
        assembly = library.merge(paths, as_of=as_of, unit=unit, how=how)
    found = library.sequence(assembly)
    stages = library.stage_order(assembly)
    spare = library.spare_rules(assembly) if spare_rules else None
    if output is OutputFormat.JSON:
        write(sequence_json(found, stages, assembly, spare))
    elif output is OutputFormat.CSV:
        write(sequence_csv(found, assembly))
    else:
        show(lambda paper: sequence_lines(found, stages, assembly, paper, spare=spare, full=full))
    raise typer.Exit(0 if found.feasible else 1)
