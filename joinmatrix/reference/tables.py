"""Reading the published tables that lie beside this file."""

import csv
from importlib import resources


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table by its file name, heading -> text."""
    text = resources.files(__package__).joinpath(name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))
