"""The part of the terminal report that tells what was read, and what was not."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from joinmatrix.lists.table import RowAccount
from joinmatrix.place import Place
from joinmatrix.report import Report
from joinmatrix.reports.lines import BOLD, PLAIN, Line, Paper
from joinmatrix.reports.text import cells_text, counted, padded, row_ranges, width
from joinmatrix.reports.view import View

# Remarks beyond these are counted; `--full` shows them all.
MOST_REMARKS = 40
MOST_CELLS = 12
_NUMBERS = (("read", 7), ("used", 7), ("set aside", 11))


def reading_lines(report: Report, paper: Paper, view: View) -> Iterator[Line]:
    """The row account, the sheets not used, how it was read, the checks that did not run."""
    if view.brief:
        yield from _in_brief(report, paper)
        return
    yield []
    yield paper.heading("What was read")
    accounts = report.reading.accounts
    name_cells = _name_cells(paper, accounts)
    yield [
        (" " * (name_cells + 4), PLAIN),
        *((f"{word:>{cells}}", BOLD) for word, cells in _NUMBERS),
    ]
    told = _Told(report, view)
    for file in _files(report):
        yield from _styled(paper.paragraph(file, 2), BOLD)
        yield from _file(file, report, told, paper, name_cells)
    yield from _total(accounts, name_cells)
    if told.left_out:
        text = f"{told.left_out:,} more remarks on how it was read: add --full to see them"
        yield from _labelled(paper, "remark", text)
    yield from _not_run(report, paper)


def _files(report: Report) -> list[str]:
    """Every file that something is told of, in reading order."""
    return list(
        dict.fromkeys(
            (
                *report.reading.files,
                *(account.file for account in report.reading.accounts),
                *(each.file for each in report.not_used),
                *(place.file for place, _ in _remarks(report)),
            )
        )
    )


class _Told:
    """The remarks of each file, and how many are left out of a report that is not full."""

    def __init__(self, report: Report, view: View) -> None:
        self.full = view.full
        self.by_file: defaultdict[str, dict[str, list[Place]]] = defaultdict(dict)
        told: set[tuple[str, str]] = set()
        self.left_out = 0
        for place, sentence in _remarks(report):
            if (place.file, sentence) not in told:
                if len(told) >= MOST_REMARKS and not view.full:
                    self.left_out += 1
                    continue
                told.add((place.file, sentence))
            self.by_file[place.file].setdefault(sentence, []).append(place)


def _file(file: str, report: Report, told: _Told, paper: Paper, name_cells: int) -> Iterator[Line]:
    """The lists of one file, its sheets that are none, the remarks on it."""
    for account in report.reading.accounts:
        if account.file == file:
            yield from _account(account, paper, name_cells)
    for each in report.not_used:
        if each.file == file:
            sheet = f"{each.sheet}: " if each.sheet else ""
            yield from _labelled(paper, "not used", f"{sheet}{each.why}", 4)
    for sentence, places in told.by_file[file].items():
        most = len(places) if told.full else MOST_CELLS
        more = f" and {len(places) - most:,} more" if len(places) > most else ""
        cells = cells_text(place._replace(file="") for place in places[:most])
        cells = cells.removeprefix(": ").replace("; : ", "; ").removeprefix("!")
        where = f"{cells}{more}: " if cells else ""
        yield from _labelled(paper, "remark", f"{where}{sentence}", 4)


def _remarks(report: Report) -> tuple[tuple[Place, str], ...]:
    return (*report.reading.notes, *report.assembly.notes)


def _name(account: RowAccount) -> str:
    return f"{account.kind}: {account.sheet}" if account.sheet else account.kind.value


def _name_cells(paper: Paper, accounts: Iterable[RowAccount]) -> int:
    """As wide as the longest name needs, and no wider than the paper leaves."""
    longest = max((width(paper.safe(_name(each))) for each in accounts), default=0)
    room = paper.width - 4 - sum(cells for _, cells in _NUMBERS)
    return max(min(longest + 1, room), 10)


def _account(account: RowAccount, paper: Paper, name_cells: int) -> Iterator[Line]:
    narrow = Paper(name_cells + 4, paper.encoding)
    *above, last = narrow.paragraph(_name(account), 4)
    yield from above
    text = "".join(part for part, _ in last)
    yield [(padded(text, name_cells + 4) + _counts(account.read, account.used), PLAIN)]
    rows: defaultdict[str, list[int]] = defaultdict(list)
    for row, why in account.aside:
        rows[why].append(row)
    for why, numbers in rows.items():
        word = "row" if len(numbers) == 1 else "rows"
        yield from _labelled(paper, "set aside", f"{word} {row_ranges(numbers)}: {why}", 6)


def _counts(read: int, used: int) -> str:
    numbers = (read, used, read - used)
    return "".join(
        f"{number:>{cells},}" for number, (_, cells) in zip(numbers, _NUMBERS, strict=True)
    )


def _total(accounts: tuple[RowAccount, ...], name_cells: int) -> Iterator[Line]:
    read, used = sum(each.read for each in accounts), sum(each.used for each in accounts)
    name = padded(f"  {counted(len(accounts), 'list')}", name_cells + 4)
    yield [(name + _counts(read, used), BOLD)]


def _not_run(report: Report, paper: Paper) -> Iterator[Line]:
    for each in report.not_run:
        yield from _labelled(paper, "not checked", f"{', '.join(each.kinds)}: {each.why}")


def _in_brief(report: Report, paper: Paper) -> Iterator[Line]:
    """The row account in one sentence, and the checks that did not run."""
    accounts = report.reading.accounts
    read, used = sum(each.read for each in accounts), sum(each.used for each in accounts)
    notes = len({sentence for _, sentence in _remarks(report)})
    yield []
    yield from paper.paragraph(
        f"{counted(read, 'row')} in {counted(len(accounts), 'list')} of "
        f"{counted(len(report.reading.files), 'file')}: {used:,} used, {read - used:,} set aside; "
        f"{counted(len(report.not_used), 'sheet')} not used; "
        f"{counted(notes, 'remark')} on how it was read.",
        first=[("read  ", BOLD)],
    )
    yield from _not_run(report, paper)


def _labelled(paper: Paper, label: str, text: str, indent: int = 2) -> Iterator[Line]:
    yield from paper.paragraph(text, indent, [(f"{label}  ", BOLD)])


def _styled(lines: Iterable[Line], style: str) -> Iterator[Line]:
    for line in lines:
        yield [(text, style) for text, _ in line]
