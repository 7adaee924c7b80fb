"""The sign-off statement: what it says, as JSON and back."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any, NamedTuple

from joinmatrix.answers.json_escapes import escaped
from joinmatrix.answers.seals import FileSeal, Seals, TableSeal
from joinmatrix.errors import InputError

FORMAT = "joinmatrix-sign-off/1"
SUPPORTS = (
    "It supports the release by the licensed person and does not replace it, nor the maintenance "
    "manual, nor the approved data. The program has seen the lists, not the joints."
)
SAFETY = (
    "This statement says that these lists and this record agree with each other and with the rules "
    f"in them. {SUPPORTS} The seal shows a slip or an alteration; it is no signature."
)
REFUSAL = f"This is a check of lists and not a statement. {SUPPORTS}"


class Count(NamedTuple):
    """One side of one joint."""

    joint: str
    side: str
    connections: int
    made: int
    inspected: int


class Agreed(NamedTuple):
    """An agreed difference that the answer relies on, and the row that agrees it."""

    joint: str
    connection: str
    service: str
    side: str
    column: str
    reason: str
    approved_by: str
    file: str
    sheet: str
    row: int


class Unchecked(NamedTuple):
    """Checks that did not run, and why."""

    kinds: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Statement:
    """A clear answer of the strict check, and exactly what it is about.

    unit     serial, "" when the record names none
    date     ISO time at which it was made, with its offset
    by       who asked for it
    program  name and version
    as_of    the moment at which the record was judged, as the caller gave it; "" for its latest
    notes    kind -> number of notes: what to know, and what holds nothing
    """

    unit: str
    date: str
    by: str
    program: str
    as_of: str
    counts: tuple[Count, ...]
    agreed: tuple[Agreed, ...]
    unchecked: tuple[Unchecked, ...]
    notes: Mapping[str, int]
    inputs: Seals

    @property
    def connections(self) -> int:
        """How many connections it covers."""
        return sum(count.connections for count in self.counts)


def program_version() -> str:
    """The program as statements name it."""
    try:
        return f"joinmatrix {metadata.version('joinmatrix')}"
    except metadata.PackageNotFoundError:
        return "joinmatrix (not installed)"


def statement_object(statement: Statement) -> dict[str, object]:
    """The statement as its JSON has it, the seal last."""
    body: dict[str, object] = {
        "format": FORMAT,
        "statement": SAFETY,
        "verdict": "clear",
        "unit": statement.unit,
        "date": statement.date,
        "by": statement.by,
        "program": statement.program,
        "as of": statement.as_of,
        "joints": [
            {
                "joint": each.joint,
                "side": each.side,
                "connections": each.connections,
                "made": each.made,
                "inspected": each.inspected,
            }
            for each in statement.counts
        ],
        "agreed differences": [
            {
                "joint": each.joint,
                "connection": each.connection,
                "service": each.service,
                "side": each.side,
                "column": each.column,
                "reason": each.reason,
                "approved by": each.approved_by,
                "file": each.file,
                "sheet": each.sheet,
                "row": each.row,
            }
            for each in statement.agreed
        ],
        "not run": [{"kinds": list(each.kinds), "why": each.why} for each in statement.unchecked],
        "notes": dict(statement.notes),
        "inputs": [
            {"file": each.file, "sha256": each.sha256, "bytes": each.size}
            for each in statement.inputs.files
        ],
        "lists": [
            {
                "file": each.file,
                "sheet": each.sheet,
                "list": each.list,
                "rows": {str(row): digest for row, digest in each.rows.items()},
            }
            for each in statement.inputs.tables
        ],
    }
    return {**body, "seal": _seal(body)}


def statement_bytes(statement: Statement) -> bytes:
    """The JSON file, one entry on a line."""
    members = [
        f"{_text(name)}: {_lines(value)}" for name, value in statement_object(statement).items()
    ]
    text = "{" + ",\n ".join(members) + "}\n"
    return escaped(text).encode("utf-8")


_text: Callable[[object], str] = json.JSONEncoder(ensure_ascii=False).encode


def _lines(value: object) -> str:
    if not isinstance(value, list) or not value:
        return _text(value)
    return "[\n  " + ",\n  ".join(map(_text, value)) + "]"


def _seal(body: Mapping[str, object]) -> str:
    plain = json.dumps(body, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(plain.encode("ascii")).hexdigest()


def read_statement(path: str | Path) -> Statement:
    """A statement from its file.

    raises  InputError for a file that is none, or that is not as it was written
    """
    where = str(path)
    try:
        text = Path(path).read_bytes().decode("utf-8")
        found = json.loads(text)
    except OSError as error:
        raise InputError(where, f"cannot be read ({error.strerror})", "check the name") from None
    except ValueError:
        raise _no_statement(where) from None
    if not isinstance(found, dict) or not str(found.get("format", "")).startswith(
        "joinmatrix-sign-off/"
    ):
        raise _no_statement(where)
    if "seal" not in found:
        raise InputError(
            where, "is the refusal of a sign-off", "give the .json file of one that was clear"
        )
    if found["format"] != FORMAT:
        raise InputError(
            where, f'has the format "{found["format"]}"', f'this program knows "{FORMAT}"'
        )
    seal = found.pop("seal", "")
    if seal != _seal(found):
        raise InputError(
            where,
            "is not as it was written: its seal does not fit it",
            "use the statement as the program wrote it",
        )
    try:
        return _statement(found)
    except (KeyError, TypeError, ValueError):
        raise _no_statement(where) from None


def _no_statement(where: str) -> InputError:
    return InputError(where, "is no sign-off statement", "give the .json file that sign-off wrote")


def _statement(found: Mapping[str, Any]) -> Statement:
    return Statement(
        unit=found["unit"],
        date=found["date"],
        by=found["by"],
        program=found["program"],
        as_of=found["as of"],
        counts=tuple(
            Count(*(each[name] for name in ("joint", "side", "connections", "made", "inspected")))
            for each in found["joints"]
        ),
        agreed=tuple(
            Agreed(**{name.replace(" ", "_"): value for name, value in each.items()})
            for each in found["agreed differences"]
        ),
        unchecked=tuple(Unchecked(tuple(each["kinds"]), each["why"]) for each in found["not run"]),
        notes=dict(found["notes"]),
        inputs=Seals(
            tuple(
                FileSeal(each["file"], each["sha256"], each["bytes"]) for each in found["inputs"]
            ),
            tuple(
                TableSeal(
                    each["file"],
                    each["sheet"],
                    each["list"],
                    {int(row): digest for row, digest in each["rows"].items()},
                )
                for each in found["lists"]
            ),
        ),
    )
