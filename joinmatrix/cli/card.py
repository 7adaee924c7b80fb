"""`joinmatrix card`: a work card to print."""

from pathlib import Path
from typing import Annotated

import typer

from joinmatrix.cli.options import AsOf, Paths, Unit, patience, say, write
from joinmatrix.errors import CallError


def card(
    paths: Paths,
    joint: Annotated[
        str, typer.Option("--joint", metavar="NAME", help="The joint that the card is for.")
    ] = "",
    side: Annotated[
        str, typer.Option("--side", metavar="SIDE", help="One side of the joint, or of the stage.")
    ] = "",
    stage: Annotated[
        str,
        typer.Option(
            "--stage",
            metavar="NAME",
            help="The stage that the card is for: what must be over before it starts.",
        ),
    ] = "",
    output: Annotated[
        Path | None,
        typer.Option(
            "--output",
            metavar="FILE",
            help="Write the card: FILE.html to print, FILE.txt as plain text. "
            "Without it the text is shown.",
        ),
    ] = None,
    as_of: AsOf = None,
    unit: Unit = None,
) -> None:
    """Make a work card for a joint, a side or a stage.

    What to place, make, inspect and remove, in order, with ports, sizes, limits, what can be
    swapped by hand, the usual cautions, and boxes for reading, initials and date.

    It supports the approved data and does not replace them.

    Examples:

    joinmatrix card lists/ --joint "outer wing" --side L

    joinmatrix card lists/ --stage "wing root fairing" --output fairing.html
    """
    if not joint and not stage:
        raise CallError("a card is for a joint or for a stage", "Give --joint or --stage")
    from joinmatrix.answers.safe_write import refuse_inputs, write_whole
    from joinmatrix.answers.seals import seal_files
    from joinmatrix.reports.card import Chosen
    from joinmatrix.reports.card import card as card_of
    from joinmatrix.reports.card_page import to_card_page
    from joinmatrix.reports.card_text import to_card_text
    from joinmatrix.verify import verify

    with patience("reading and checking the lists"):
        report = verify(paths, as_of=as_of, unit=unit)
    digests = {seal.file: seal.sha256 for seal in seal_files(paths)}
    made = card_of(report, Chosen(joint, side, stage), digests)
    if output is None:
        write(to_card_text(made))
        return
    refuse_inputs(output, [*paths, *map(Path, report.reading.files)])
    page = output.suffix.lower() in (".html", ".htm")
    write_whole(output, (to_card_page(made) if page else to_card_text(made)).encode("utf-8"))
    say(f"wrote {output}")
