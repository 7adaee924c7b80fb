"""Where a fact was read, down to the cell."""

from functools import lru_cache
from typing import NamedTuple


class Place(NamedTuple):
    """A cell, or the whole of the level above where a part is 0 or "".

    file    the name as the user typed it, so that reports are the same on every machine
    sheet   "" for a .csv
    row     1-based, the number the spreadsheet shows
    column  1-based number, so that AA sorts after B; shown as a letter
    """

    file: str
    sheet: str = ""
    row: int = 0
    column: int = 0

    @property
    def hidden(self) -> bool:
        """Whether nobody sees it who opens the file."""
        return False

    @property
    def cell(self) -> str:
        """The cell as a spreadsheet shows it ("D14"), a row as "14", "" for a whole sheet."""
        if not self.row:
            return ""
        return f"{column_letters(self.column)}{self.row}"

    @property
    def in_sheet(self) -> str:
        """The place where its sheet is named already: "D14", "D14 (hidden)", "the sheet"."""
        return f"{self.cell or 'the sheet'}{_MARK[self.hidden]}"

    def __str__(self) -> str:
        name = f"{self.file}: {self.sheet}" if self.sheet else self.file
        return f"{name}!{self.in_sheet}" if self.row else f"{name}{_MARK[self.hidden]}"


class HiddenPlace(Place):
    """A place on a hidden row or sheet.

    Equal to a place that is seen, so that nothing but what is shown depends on it.
    """

    __slots__ = ()

    @property
    def hidden(self) -> bool:
        """Whether nobody sees it who opens the file."""
        return True


_MARK = {False: "", True: " (hidden)"}


@lru_cache(maxsize=1024)
def column_letters(column: int) -> str:
    """Letters of a 1-based column number; "" for 0: 1 is A, 27 is AA."""
    letters = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
