"""Options that several commands share, and what they all do with a report."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated, TypeAlias

import typer

Paths: TypeAlias = Annotated[
    list[Path],
    typer.Argument(
        metavar="PATHS...",
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


class OutputFormat(StrEnum):
    """How an answer is written."""

    TERMINAL = "terminal"
    JSON = "json"
    CSV = "csv"


Format: TypeAlias = Annotated[
    OutputFormat, typer.Option("--format", help="How the answer is written.")
]


def write(text: str) -> None:
    """Write to standard output as UTF-8, whatever the terminal would make of it."""
    stream = typer.get_binary_stream("stdout")
    stream.write(text.encode("utf-8", errors="backslashreplace"))
    stream.flush()
