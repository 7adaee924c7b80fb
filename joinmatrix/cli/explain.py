"""`joinmatrix explain`: what a finding means and what clears it."""

from typing import Annotated

import typer

from joinmatrix.findings import Kind


def explain(
    kind: Annotated[
        Kind | None, typer.Argument(help="The kind of finding; without one, all in a line each.")
    ] = None,
) -> None:
    """Say what a kind of finding means, and what clears it.

    Example: joinmatrix explain one-ended
    """
    from joinmatrix.checks.registry import documentation

    if kind is None:
        width = max(len(each) for each in Kind)
        for each in Kind:
            typer.echo(f"{each:{width}}  {documentation(each).splitlines()[0]}")
    else:
        typer.echo(f"{kind}\n\n{documentation(kind)}")
