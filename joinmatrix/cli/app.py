"""The program: its commands, and how every one of them ends."""

import gc
import os
import sys
import traceback
from typing import NoReturn

import typer

from joinmatrix.cli import (
    blank,
    card,
    changes,
    check,
    explain,
    gate,
    sequence,
    sides,
    sign_off,
    trace,
)
from joinmatrix.cli import next as next_acts
from joinmatrix.errors import JoinMatrixError

UNUSABLE = 2  # the input or the call cannot be used

app = typer.Typer(
    name="joinmatrix",
    help="Verify that every line, cable, rod and connector across a joint is made, once, in order.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    epilog="Exit codes: 0 no hold, 1 hold, 2 the input or the call cannot be used.",
)
app.command("check")(check.check)
app.command("gate")(gate.gate)
app.command("next")(next_acts.next_acts)
app.command("sequence")(sequence.sequence)
app.command("changes")(changes.changes)
app.command("sides")(sides.sides)
app.command("card")(card.card)
app.command("sign-off")(sign_off.sign_off)
app.command("trace")(trace.trace)
app.command("blank")(blank.blank)
app.command("explain")(explain.explain)


def main() -> None:
    """Run the command line; never ends in a traceback for a fault of the input."""
    gc.disable()  # one answer, and then the process ends: there is nothing to collect for
    try:
        app()
    except SystemExit as end:
        _leave(end)
    except JoinMatrixError as error:
        print(f"joinmatrix: {printable(str(error))}", file=sys.stderr)
        sys.exit(UNUSABLE)
    except BrokenPipeError:
        sys.stderr.close()  # the reader of a pipe went away, which is its right
        sys.exit(UNUSABLE)
    except Exception:  # say whose fault it is, then show it
        traceback.print_exc()
        print("joinmatrix: this is a fault of the program, not of your lists.", file=sys.stderr)
        sys.exit(UNUSABLE)


def _leave(end: SystemExit) -> NoReturn:
    """End the process at once when all is written.

    To take a hundred thousand connections apart again, piece by piece, would take half a second
    in which nothing is left to do.
    """
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:  # the reader of a pipe went away
        os._exit(UNUSABLE)
    os._exit(end.code if isinstance(end.code, int) else 0)


def printable(text: str) -> str:
    """The text without characters that a terminal would act on."""
    return "".join(each if each.isprintable() else f"<U+{ord(each):04X}>" for each in text)
