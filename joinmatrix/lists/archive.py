"""The archive that a workbook is: opened with care, and its small parts as XML."""

import xml.etree.ElementTree as ET
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from xml.parsers.expat import ExpatError

from python_calamine import CalamineError, PasswordError

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds

_RATIO_FROM = 16 << 20  # smaller parts may be packed as tightly as they like
_SMALL_PART = 16 << 20  # the workbook's own list of sheets, its styles and such
_COPY_AGAIN = "Copy it again, or open it in a spreadsheet program and save it"
# A damaged archive shows itself in any of these, depending on where it is cut.
_SIGNS_OF_DAMAGE = (
    *(zipfile.BadZipFile, zlib.error, ET.ParseError, ExpatError, CalamineError, EOFError),
    *(KeyError, ValueError, IndexError, NotImplementedError, RuntimeError, OSError),
)


@contextmanager
def opened(path: Path, file: str, bounds: Bounds) -> Iterator[zipfile.ZipFile]:
    """The archive, its directory checked.

    file    the name to report it by
    raises  InputError for all that goes wrong in it, but a PermissionError stays one
    """
    try:
        with zipfile.ZipFile(path) as archive:
            check_directory(file, archive, bounds)
            yield archive
    except PasswordError:
        raise InputError(
            file, "is protected by a password", "Save a copy without one and give that"
        ) from None
    except PermissionError:
        raise
    except _SIGNS_OF_DAMAGE as error:
        found = f"is damaged or only partly copied ({reason_of(error)})"
        raise InputError(file, found, _COPY_AGAIN) from error


def reason_of(error: Exception) -> str:
    """The library's own words, on one line."""
    words = " ".join(str(error).split()) or type(error).__name__
    return _printable(words)[:200]


def check_directory(file: str, archive: zipfile.ZipFile, bounds: Bounds) -> None:
    """Refuse a trap by its directory alone, before anything is unpacked."""
    parts = archive.infolist()
    if len(parts) > bounds.parts:
        raise InputError(
            file,
            f"holds {len(parts):,} parts, more than {bounds.parts:,}",
            "Save a copy with the lists alone, or raise the bound on parts",
        )
    _refuse_twins(file, parts)
    total = sum(part.file_size for part in parts)
    if total > bounds.unpacked_bytes:
        raise InputError(
            file,
            f"unpacks to {_mib(total)}, more than {_mib(bounds.unpacked_bytes)}",
            "Split the workbook, or raise the bound on unpacked size",
        )
    for part in parts:
        _check_part(file, part, bounds)


def _refuse_twins(file: str, parts: Iterable[zipfile.ZipInfo]) -> None:
    """Two parts of one name: one program would read the one, the next the other."""
    seen: set[str] = set()
    for part in parts:
        name = part.filename.replace("\\", "/").lower()
        if name in seen:
            raise InputError(
                file,
                f"holds two parts named {_printable(part.filename)}, which no spreadsheet "
                "program writes",
                _COPY_AGAIN,
            )
        seen.add(name)


def _check_part(file: str, part: zipfile.ZipInfo, bounds: Bounds) -> None:
    if part.flag_bits & 1:
        raise InputError(
            file, "is an encrypted archive", "Save a copy without a password and give that"
        )
    name = _printable(part.filename)
    if part.file_size > bounds.part_bytes:
        raise InputError(
            file,
            f"its part {name} unpacks to {_mib(part.file_size)}, more than "
            f"{_mib(bounds.part_bytes)}",
            "Split the sheet, or raise the bound on the size of one part",
        )
    packed = max(part.compress_size, 1)
    if part.file_size > _RATIO_FROM and part.file_size > packed * bounds.ratio:
        raise InputError(
            file,
            f"its part {name} unpacks to {part.file_size // packed} times its size "
            f"({_mib(part.file_size)}), as only a trap does",
            "Do not trust this file; ask who made it, or raise the bound on the ratio",
        )


def _mib(size: int) -> str:
    return f"{size / (1 << 20):,.0f} MiB"


def _printable(text: str) -> str:
    return "".join(each if each.isprintable() else "?" for each in text)[:100]


def small_part(file: str, archive: zipfile.ZipFile, name: str) -> ET.Element:
    """A small part as XML."""
    info = archive.getinfo(name)
    if info.file_size > _SMALL_PART:
        raise InputError(file, f"its part {name} is far too large", _COPY_AGAIN)
    with archive.open(info) as stream:
        text = stream.read(_SMALL_PART + 1)
    if b"<!DOCTYPE" in text or "<!DOCTYPE".encode("utf-16-le") in text:
        raise InputError(
            file,
            f"its part {name} has a document type (DOCTYPE), which no spreadsheet program writes",
            "Do not trust this file; ask who made it for a copy saved by a spreadsheet program",
        )
    return ET.fromstring(text)


def local_name(element: ET.Element) -> str:
    """The tag without its namespace: the strict variant of the format has others."""
    return element.tag.rpartition("}")[2]


def attribute(element: ET.Element, name: str) -> str:
    """An attribute, whatever its namespace."""
    for key, value in element.attrib.items():
        if key.rpartition("}")[2] == name:
            return value
    return ""
