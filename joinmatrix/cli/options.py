"""Options that several commands share, and what they all do with a report."""

import re
import sys
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeAlias

import typer

from joinmatrix.errors import CallError

if TYPE_CHECKING:
    from joinmatrix.lists.bounds import HowToRead
    from joinmatrix.reports.lines import Line, Paper

# What is not plain digits is none to `int`, and neither are digits by the thousand.
_WHOLE_NUMBER = re.compile(r"[0-9]{1,18}")

Paths: TypeAlias = Annotated[
    list[Path],
    typer.Argument(
        metavar="PATHS",
        help="Files (.xlsx, .csv) and folders with the lists and the record.",
        show_default=False,
    ),
]
AsOf: TypeAlias = Annotated[
    str | None,
    typer.Option(
        "--as-of",
        metavar="TIME",
        help='Judge as at this time, as "2031-03-04" or "2031-03-04 10:30". '
        "Default: the latest time in the record.",
        show_default=False,
    ),
]
Unit: TypeAlias = Annotated[
    str | None,
    typer.Option(
        "--unit",
        metavar="SERIAL",
        help="The unit to look at, when the record holds several.",
        show_default=False,
    ),
]


SkipHidden: TypeAlias = Annotated[
    bool,
    typer.Option("--skip-hidden", help="Leave hidden rows and sheets out, and say so."),
]
Encoding: TypeAlias = Annotated[
    str | None,
    typer.Option(
        "--encoding",
        metavar="NAME",
        help='Encoding of the .csv files, as "cp1252". Default: found from the file.',
        show_default=False,
    ),
]
Bound: TypeAlias = Annotated[
    list[str] | None,
    typer.Option(
        "--bound",
        metavar="NAME=NUMBER",
        help="Raise a bound on the size of the input, as cells=40000000.",
        show_default=False,
    ),
]


def how_to_read(
    *, skip_hidden: bool = False, encoding: str | None = None, bounds: Sequence[str] = ()
) -> "HowToRead":
    """The options on reading.

    raises  CallError for a bound or an encoding that there is not
    """
    from dataclasses import asdict, replace

    from joinmatrix.lists.bounds import DEFAULT_BOUNDS, HowToRead

    known = asdict(DEFAULT_BOUNDS)
    raised: dict[str, int] = {}
    for text in bounds:
        name, _, number = (part.strip() for part in text.partition("="))
        name = name.replace("-", "_")
        if name not in known or not _WHOLE_NUMBER.fullmatch(number):
            raise CallError(
                f'"{text}" is not a bound', f"Write one of {', '.join(known)}, as cells=40000000"
            )
        raised[name] = int(number)
    if encoding is not None:
        from joinmatrix.lists.separated import text_encoding

        if not text_encoding(encoding):
            raise CallError(
                f'"{encoding}" is not an encoding', 'Write one such as "utf-8" or "cp1252"'
            )
    return HowToRead(replace(DEFAULT_BOUNDS, **raised), skip_hidden, encoding)


@contextmanager
def patience(what: str) -> Iterator[None]:
    """Say what is going on when it takes longer than a second, where somebody is looking on."""
    if not sys.stderr.isatty():
        yield
        return
    timer = threading.Timer(1.0, lambda: print(f"{what} ...", file=sys.stderr, flush=True))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()


class OutputFormat(StrEnum):
    """How an answer is written."""

    TERMINAL = "terminal"
    JSON = "json"
    CSV = "csv"


Format: TypeAlias = Annotated[
    OutputFormat,
    typer.Option(
        "--format",
        help="How the answer is written; in csv, what a spreadsheet would run begins with '.",
    ),
]


class AnswerOutput(StrEnum):
    """How an answer is written that makes no table."""

    TERMINAL = "terminal"
    JSON = "json"


AnswerFormat: TypeAlias = Annotated[
    AnswerOutput, typer.Option("--format", help="How the answer is written.")
]


class Doer(StrEnum):
    """Whose acts are shown; as in `joinmatrix.answers.next_acts`, which is heavier to import."""

    MECHANIC = "mechanic"
    INSPECTOR = "inspector"


def show(lines_on: "Callable[[Paper], Iterable[Line]]") -> None:
    """Write lines to the terminal, laid out for what it is."""
    from rich.console import Console

    from joinmatrix.reports.lines import paper_of, write_lines

    console = Console(highlight=False)
    write_lines(console, lines_on(paper_of(console)))


def write(text: str) -> None:
    """Write to standard output as UTF-8, whatever the terminal would make of it."""
    stream = typer.get_binary_stream("stdout")
    stream.write(text.encode("utf-8", errors="backslashreplace"))
    stream.flush()


def say(text: str) -> None:
    """Tell what was done, beside the answer and out of the way of a pipe."""
    from joinmatrix.reports.text import safe

    typer.echo(f"joinmatrix: {safe(text)}", err=True)
