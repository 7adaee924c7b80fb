"""The texts that the sheets of a workbook share: struck-out ones, and how much they add up to."""

import re
import zipfile
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator

from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.scan import STRUCK, Part, pieces

_ITEM = re.compile(rb"<(?:[\w.-]+:)?si(?=[\s>/])")
_USE = re.compile(rb"""\bt=["']s["'][^>]*>\s*<(?:[\w.-]+:)?v>(\d+)<""")
_SMALLEST_CELL = 24  # bytes of a cell that uses a shared text


class SharedTexts:
    """The part with the shared texts, looked through once.

    longest  bytes of the longest stretch of text
    struck   numbers of the texts of which a part is struck out
    """

    def __init__(self, file: str, archive: zipfile.ZipFile, name: str) -> None:
        self.archive = archive
        self.longest = 0
        self.struck: frozenset[int] = frozenset()
        self.info = archive.getinfo(name) if name in archive.namelist() else None
        if self.info is not None:
            self.part = Part(file, self.info.file_size)
            self._look_through()

    def _pieces(self) -> Iterator[bytes]:
        assert self.info is not None
        with self.archive.open(self.info) as stream:
            yield from pieces(stream, self.part, before=b"<si")

    def _look_through(self) -> None:
        struck: set[int] = set()
        count = 0
        for piece in self._pieces():
            self.longest = max(self.longest, *map(len, piece.split(b"<")))
            starts = [match.start() for match in _ITEM.finditer(piece)]
            for match in STRUCK.finditer(piece) if b"strike" in piece else ():
                struck.add(count + bisect_left(starts, match.start()) - 1)
            count += len(starts)
        self.struck = frozenset(struck)

    def check(self, info: zipfile.ZipInfo, part: Part, bounds: Bounds) -> None:
        """Refuse a sheet that repeats long texts until they fill the memory.

        raises  InputError
        """
        if self.longest * (info.file_size // _SMALLEST_CELL) <= bounds.text_bytes:
            return
        sizes = [len(item) for piece in self._pieces() for item in _ITEM.split(piece)[1:]]
        uses: Counter[bytes] = Counter()
        with self.archive.open(info) as stream:
            for piece in pieces(stream, part):
                uses.update(_USE.findall(piece))
        total = sum(
            sizes[int(number)] * count for number, count in uses.items() if int(number) < len(sizes)
        )
        if total > bounds.text_bytes:
            raise part.refused(
                f"repeats long texts until they fill {total >> 20:,} MiB, more than "
                f"{bounds.text_bytes >> 20:,} MiB",
                "Shorten the long texts, or raise the bound on text",
            )
