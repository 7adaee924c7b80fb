"""JSON as every answer is written: members in a fixed order, one entry of a list on a line.

So two files can be compared by eye, and the same answer gives the same bytes.
"""

import json
from collections.abc import Callable, Iterable, Mapping

from joinmatrix.answers.json_escapes import escaped
from joinmatrix.answers.not_understood import Part, not_understood
from joinmatrix.assembly.model import Assembly
from joinmatrix.lists.table import Trouble
from joinmatrix.place import Place

text_of: Callable[[object], str] = json.JSONEncoder(ensure_ascii=False).encode


def document(members: Mapping[str, object]) -> str:
    """A whole file. A value that is a list, tuple or iterator gets one entry on a line."""
    written = ",\n ".join(f"{text_of(name)}: {_value(value)}" for name, value in members.items())
    return escaped("{" + written + "}\n")


def _value(value: object) -> str:
    if isinstance(value, (str, Mapping)) or not isinstance(value, Iterable):
        return text_of(value)
    lines = ",\n  ".join(map(text_of, value))
    return f"[\n  {lines}]" if lines else "[]"


def cells_of(places: Iterable[Place]) -> list[dict[str, object]]:
    """Cells as every JSON answer shows them."""
    return list(map(place_object, places))


def place_object(place: Place) -> dict[str, object]:
    """A cell as every JSON answer shows it; only what is hidden says whether it is."""
    shown: dict[str, object] = {"file": place.file, "sheet": place.sheet, "cell": place.cell}
    return {**shown, "hidden": True} if place.hidden else shown


def troubles_of(assembly: Assembly, parts: Iterable[Part]) -> list[dict[str, object]]:
    """What could not be understood in the parts that an answer rests on."""
    return list(map(trouble_object, not_understood(assembly, parts)))


def trouble_object(trouble: Trouble) -> dict[str, object]:
    """What could not be understood, as every JSON answer shows it."""
    return {
        "message": trouble.found,
        "clears": trouble.remedy,
        "cells": cells_of((trouble.place, *trouble.others)),
    }
