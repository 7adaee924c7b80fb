"""`joinmatrix check`: the report."""

import gc
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

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
    say,
    show,
    write,
)
from joinmatrix.errors import CallError, JoinMatrixError
from joinmatrix.findings import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from joinmatrix.report import Report
    from joinmatrix.reports.view import View


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
    marked: Annotated[
        Path | None,
        typer.Option(
            "--marked",
            metavar="FILE.xlsx",
            help="Write the lists again with the findings at their cells; with several lists, "
            "one file each.",
        ),
    ] = None,
    page: Annotated[
        Path | None,
        typer.Option("--page", metavar="FILE.html", help="Write the report as one page."),
    ] = None,
    show_headings: Annotated[
        bool,
        typer.Option("--show-headings", help="Show how each sheet was understood, and no more."),
    ] = False,
    skip_hidden: SkipHidden = False,
    encoding: Encoding = None,
    bound: Bound = None,
    watch: Annotated[
        bool, typer.Option("--watch", help="Check again whenever a list is saved.")
    ] = False,
) -> None:
    """Read the lists and the record, and report what is not right.

    Shows what was read, the matrix of each joint, the findings and the verdict.
    --joint, --side and --kind narrow what is shown; the verdict is always of the
    whole.

    Examples:

    joinmatrix check lists/

    joinmatrix check hull.xlsx wing.xlsx --joint "outer wing" --side L

    joinmatrix check lists/ --format json > report.json

    joinmatrix check lists/ --marked marked.xlsx --page report.html
    """
    from joinmatrix.answers.safe_write import refuse_twice
    from joinmatrix.reports.view import View, require_known
    from joinmatrix.verify import lists_of, verify

    how = how_to_read(skip_hidden=skip_hidden, encoding=encoding, bounds=bound or ())
    if show_headings:
        from joinmatrix.reports.headings_report import headings_lines

        reading = lists_of(paths, how)
        show(lambda paper: headings_lines(reading, paper))
        return
    outputs = [each for each in (marked, page) if each is not None]
    refuse_twice(outputs)
    view = View(tuple(joint or ()), tuple(side or ()), tuple(kind or ()), brief, full)

    def once() -> "Report":
        with patience("reading and checking the lists"):
            report = verify(paths, as_of=as_of, unit=unit, how=how)
        require_known(view, report)
        _refuse_outputs(report, marked, page, paths)
        _write_report(report, view, output)
        if marked is not None:
            _write_marked(report, marked)
        if page is not None:
            _write_page(report, page)
        return report

    if watch:
        _again_and_again(paths, outputs, once)
    raise typer.Exit(once().exit_code)


def _refuse_outputs(
    report: "Report", marked: Path | None, page: Path | None, paths: list[Path]
) -> None:
    """See that every output may be written where it is asked for, before any is."""
    from joinmatrix.answers.safe_write import refuse_inputs, refuse_twice

    outputs: list[Path] = []
    if marked is not None:
        from joinmatrix.reports.workbook import targets_of

        outputs.extend(targets_of(report, marked).values())
    if page is not None:
        refuse_inputs(page, [*paths, *map(Path, report.reading.files)])
        outputs.append(page)
    refuse_twice(outputs)


def _write_report(report: "Report", view: "View", output: OutputFormat) -> None:
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


def _write_marked(report: "Report", target: Path) -> None:
    from joinmatrix.answers.safe_write import write_whole
    from joinmatrix.reports.workbook import marked

    made = marked(report, target)
    for path, content in made.files.items():
        write_whole(path, content)
        say(f"wrote {path}")
    for file, why in made.refused:
        say(f"{file} was not marked: {why}")


def _write_page(report: "Report", target: Path) -> None:
    from joinmatrix.answers.safe_write import write_whole
    from joinmatrix.reports.page import to_page

    write_whole(target, to_page(report).encode("utf-8"))
    say(f"wrote {target}")


def _again_and_again(paths: list[Path], outputs: list[Path], once: "Callable[[], Report]") -> None:
    """Check whenever a list is saved, until Ctrl-C; a list that cannot be read is waited for."""
    from joinmatrix.cli.watch import watch

    watched = {path.resolve() for path in paths}
    inside = [each for each in outputs if watched & set(each.resolve().parents)]
    if inside:
        raise CallError(
            f'"{inside[0]}" lies among the lists that are watched', "Write it to another folder"
        )

    def again() -> None:
        try:
            once()
        except JoinMatrixError as error:
            say(str(error))
        gc.collect()  # the collector rests in this program, and this goes on for hours
        say("waiting for a list to be saved; Ctrl-C ends")

    try:
        watch(paths, again)
    except KeyboardInterrupt:
        raise typer.Exit(0) from None
