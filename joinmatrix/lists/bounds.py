"""How large the input may be before reading is refused, so that no file can hang a run."""

from dataclasses import dataclass

_MIB = 1 << 20


@dataclass(frozen=True, slots=True)
class Bounds:
    """Limits of one run. Each has an option of its own, so that a real list is never locked out.

    file_bytes      size of one file as it lies on the disk
    unpacked_bytes  size of all parts of one workbook once unpacked
    part_bytes      size of one part of a workbook (a sheet, the shared texts) once unpacked
    ratio           how many times larger a part may be than it lies in the file, once it is
                    larger than 16 MiB
    parts           number of parts in one workbook
    cells           rows times columns of one sheet, up to its farthest filled cell
    text_bytes      all text of one sheet, when long texts are repeated in many cells
    files           number of files of one run
    """

    file_bytes: int = 512 * _MIB
    unpacked_bytes: int = 1024 * _MIB
    part_bytes: int = 640 * _MIB
    ratio: int = 400
    parts: int = 10_000
    cells: int = 20_000_000
    text_bytes: int = 512 * _MIB
    files: int = 10_000


DEFAULT_BOUNDS = Bounds()


@dataclass(frozen=True, slots=True)
class HowToRead:
    """What a run says about the reading of its files.

    bounds       how large the input may be
    skip_hidden  leave hidden rows and sheets out, and say so
    encoding     of the .csv files, when it is known
    """

    bounds: Bounds = DEFAULT_BOUNDS
    skip_hidden: bool = False
    encoding: str | None = None


PLAINLY = HowToRead()
