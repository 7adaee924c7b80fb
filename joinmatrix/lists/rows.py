"""The rows of a list: which of them are used, and why the others are not."""

import re
from collections.abc import Collection, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from joinmatrix.lists.headings import NEEDED_LATER, ROW_NEEDS, heading_key
from joinmatrix.lists.remarks import is_remark, remarks, set_remarks_aside
from joinmatrix.lists.repeated import differing
from joinmatrix.lists.sections import Section, titles
from joinmatrix.lists.supplied import Dispute, same_side, speaks_of_middle
from joinmatrix.lists.table import ListKind, Trouble
from joinmatrix.lists.values import text_of
from joinmatrix.lists.words import EXAMPLE
from joinmatrix.lists.work import MOST_TROUBLES, ListWork, some
from joinmatrix.names import folded, quoted_list

_TOTALS = frozenset(("total", "totals", "subtotal", "sub-total", "sum", "grand total", "count"))
# A row whose cell in one of these cannot be read is not used: it would be taken for another.
_DECISIVE = frozenset(("connection", "joint", "side", "stage", "temporary item", "act", "item"))
_WORD, _NUMBER = re.compile(r"[^\W\d_]+"), re.compile(r"\d+")
_FEW_WORDS = 50  # different words of a column that are quickly looked through


def judge_rows(work: ListWork, *, skip_hidden: bool) -> None:
    """Find the rows that are not used, and say why of each."""
    _set_hidden_aside(work, skip=skip_hidden)
    _set_headings_aside(work)
    _set_example_aside(work)
    set_remarks_aside(work)
    sections = _sections(work)
    _set_unreadable_aside(work)
    _judge_incomplete_rows(work)
    if work.found.kind is ListKind.CONNECTIONS:
        _set_bare_ids_aside(work)
    _supply(work, sections)


def _set_hidden_aside(work: ListWork, *, skip: bool) -> None:
    marks = work.grid.marks
    hidden = marks.hidden_rows
    found = [at for at, row in enumerate(work.rows) if row in hidden] if hidden else []
    if not found:
        return
    numbers = some([work.rows[at] for at in found])
    what = "filtered out" if marks.filtered else "hidden"
    done = "left out, as asked" if skip else "read like any other"
    plural = "s were" if len(found) > 1 else " was"
    words = f"{len(found)} {what} row{plural} {done} ({numbers})"
    work.note(work.grid.place(work.rows[found[0]]), words)
    if skip:
        work.put_aside(found, f"{what}; left out, as asked")


def _set_headings_aside(work: ListWork) -> None:
    """Headings repeated further down, as printed lists have them at the top of each page."""
    keys = {each.column: heading_key(each.text) for each in work.found.seen}
    # The column with the fewest different words costs least to look through.
    words = {column: len(work.grid.distinct[column]) for column in keys}
    fewest = min(words, key=words.__getitem__)
    candidates: set[int] = set()
    for column in {fewest, *(each for each, count in words.items() if count <= _FEW_WORDS)}:
        same = {
            each
            for each in work.grid.distinct[column]
            if isinstance(each, str) and heading_key(each) == keys[column]
        }
        if same:
            candidates.update(at for at, each in enumerate(work.raw(column)) if each in same)
    for at in sorted(candidates):
        others = differing(work.grid, work.found, work.start + at, work.settings)
        if others:
            _report_other_headings(work, at, others)
        elif others is not None:
            work.pass_over(at, "the headings again")


def _report_other_headings(work: ListWork, at: int, others: Sequence[int]) -> None:
    """Headings that are nearly those of the list: what stands below them may mean other things."""
    row = work.grid.row(work.start + at)
    first = work.grid.rows[work.found.heading]
    shown = quoted_list([text_of(row[each]) for each in others[:4]], "and")
    work.put_aside((at,), "headings again, but not the same")
    work.troubles.append(
        Trouble(
            work.place(at, others[0]),
            f"the row has the headings of row {first} again, but {shown} where row {first} has "
            "something else, so the rows below it may have been misread",
            "write the same headings in the same order, or leave a blank row above the new ones",
        )
    )


def _set_example_aside(work: ListWork) -> None:
    """The row that a blank workbook comes with, wherever sorting has put it."""
    for name in (name for group in ROW_NEEDS[work.found.kind] for name in group):
        for at, text in enumerate(work.cells.get(name, ())):
            if text.startswith(EXAMPLE) and text[len(EXAMPLE) :][:1] in ("", " "):
                work.pass_over(at, "the example row of a blank workbook")


def _set_unreadable_aside(work: ListWork) -> None:
    """Rows that cannot be placed because a cell that decides shows an error; reported already."""
    for each in work.unreadable:
        if each.meaning in _DECISIVE and each.meaning in work.cells:
            cells = work.cells[each.meaning]
            blank = (at for at in each.cells if not cells[at])
            work.put_aside(blank, f"its {each.meaning} cannot be read")


# --- rows that lack what they need -------------------------------------------------------------


def _rows_without_needs(work: ListWork) -> set[int]:
    lacking: set[int] = set()
    for group in ROW_NEEDS[work.found.kind]:
        blank = [
            {at for at, text in enumerate(work.cells[name]) if not text}
            for name in group
            if name in work.cells
        ]
        lacking |= set.intersection(*blank) if blank else set()
    return lacking


def _judge_incomplete_rows(work: ListWork) -> None:
    """Rows without what every row of the list must have; the first fifty are reported singly."""
    reported: list[int] = []
    for index in sorted(_rows_without_needs(work) - work.aside.keys()):
        if _is_missed(work, index):
            reported.append(index)
            if len(reported) <= MOST_TROUBLES:
                work.troubles.append(_incomplete(work, index))
    if more := reported[MOST_TROUBLES:]:
        lacking, column = _lacking(work, more[0])
        last = work.rows[more[-1]]
        found = f"{len(more):,} more rows lack what they need, down to row {last}; none was used"
        remedy = f"fill in the {lacking}, or delete the rows"
        work.troubles.append(Trouble(work.place(more[0], column), found, remedy))


def _incomplete(work: ListWork, index: int) -> Trouble:
    lacking, column = _lacking(work, index)
    shown = ", ".join(text for _, text in work.filled(index)[:4])
    found = f"the row ({shown[:80]}) has no {lacking}, so it was not used"
    remedy = f"fill in the {lacking}, or delete the row"
    return work.about(index, Trouble(work.place(index, column), found, remedy))


def _is_missed(work: ListWork, index: int) -> bool:
    """Set a row aside that lacks what it needs; whether something could be missed by that."""
    filled = work.filled(index)
    if not filled:
        if _has_mark(work, index):
            work.aside[index] = "nothing in it can be read"
        else:
            work.blank.add(index)
        return False
    first = filled[0][1]
    if _is_total(first) and _is_mostly_blank(work, index):
        work.pass_over(index, f'a totals row ("{first}")')
        return False
    lacking, meant = _lacking(work, index)[0], _could_be_meant(work, filled)
    if lacking in NEEDED_LATER and meant:
        return False
    work.aside[index] = f"has no {lacking}"
    if not meant:
        work.harmless.add(index)
    return meant


def _has_mark(work: ListWork, index: int) -> bool:
    row = work.rows[index]
    left, right = work.found.span
    marks = work.grid.marks
    return any(
        cell.row == row and left <= cell.column - 1 <= right
        for cell in (*marks.errors, *marks.uncalculated)
    )


def _is_total(text: str) -> bool:
    return folded(text).rstrip(": ") in _TOTALS


def _lacking(work: ListWork, index: int) -> tuple[str, int]:
    """What a row lacks, and the column where it should be."""
    for group in ROW_NEEDS[work.found.kind]:
        names = [name for name in group if name in work.cells]
        if not any(work.cells[name][index] for name in names):
            return " or ".join(group), work.columns[names[0]]
    raise AssertionError("only rows that lack something are judged")


def _could_be_meant(work: ListWork, filled: Sequence[tuple[int, str]]) -> bool:
    """Whether a row without its id could still stand for something that must not be missed.

    A single filled cell is a heading of a section or a remark below the table, and a number
    alone is a form that was numbered ahead.
    """
    known = {each.column: each.meaning for each in work.found.seen}
    telling = [each for each, _ in filled if known.get(each, "") not in ("", "seq", "remarks")]
    return len(filled) > 1 and bool(telling)


def _set_bare_ids_aside(work: ListWork) -> None:
    """Titles of sections and remarks stand in the first column, with next to nothing beside."""
    names = work.cells["connection"]
    for at in _totals(work):
        work.pass_over(at, f'a totals row ("{names[at]}")')
    bare = _bare(work)
    if not bare:
        return
    ids = _Ids(work, bare)
    for at in sorted(bare):
        text = names[at]
        if text.endswith(":") and _is_mostly_blank(work, at) and not ids.like(text):
            work.pass_over(at, f'a remark between the rows ("{text}")')
        elif len(work.filled(at)) == 1 and _is_title(work, at, text, ids):
            work.pass_over(at, f'a title between the rows ("{text}")')
    for at in remarks(work, sorted(bare - work.aside.keys())):
        if not ids.like(names[at]):
            work.pass_over(at, f'a title or remark ("{names[at]}")')


def _totals(work: ListWork) -> list[int]:
    """Rows called a total that are mostly blank: a count may stand under any heading."""
    names = work.cells["connection"]
    called = {text for text in set(names) if _is_total(text)}
    describing = _describing(work)
    return [
        at
        for at, text in enumerate(names if called else ())
        if text in called
        and at not in work.aside
        and sum(bool(texts[at]) for texts in describing) < 2
        and _is_mostly_blank(work, at)
    ]


def _describing(work: ListWork) -> list[Sequence[str]]:
    """The columns that say what a connection is, of those that the list has."""
    return [work.cells[name] for name in ("joint", "side", "type") if name in work.cells]


def _bare(work: ListWork) -> set[int]:
    """Rows of connections that have neither joint nor side nor type in a column."""
    blank = [{at for at, text in enumerate(texts) if not text} for texts in _describing(work)]
    return set.intersection(*blank) - work.aside.keys() - work.blank if blank else set()


class _Ids:
    """What the identifiers of a list look like, those of bare rows left out."""

    def __init__(self, work: ListWork, bare: Collection[int]) -> None:
        names = work.cells["connection"]
        left_out = {*bare, *work.aside}
        self._texts = {text for at, text in enumerate(names) if at not in left_out} - {""}
        self._have_digits = sum(map(_has_digit, self._texts)) * 2 > len(self._texts)

    @cached_property
    def _shapes(self) -> set[str]:
        return set(map(_shape, self._texts))

    def like(self, text: str) -> bool:
        """Whether a text is made as one of the others is: "HY-05" as "HY-01"."""
        return _has_digit(text) and _shape(text.rstrip(": ")) in self._shapes

    def could_be(self, text: str) -> bool:
        """Whether a text may be an identifier: where the others have digits it has too."""
        return _has_digit(text) or not self._have_digits


def _has_digit(text: str) -> bool:
    return any(map(str.isdigit, text))


def _shape(text: str) -> str:
    """The text with one letter for each word and one digit for each number."""
    return _NUMBER.sub("9", _WORD.sub("a", text.strip()))


def _is_title(work: ListWork, at: int, text: str, ids: _Ids) -> bool:
    """Whether a text that stands alone where the identifiers stand is a title, and none of them."""
    return not ids.could_be(text) or (_is_wide(work, at) and not ids.like(text))


def _is_mostly_blank(work: ListWork, at: int) -> bool:
    filled = len(work.filled(at))
    return filled <= 2 or (filled - 1) * 2 < len(work.found.seen) - 1


def _is_wide(work: ListWork, at: int) -> bool:
    """Whether a cell of the row is merged with its neighbours."""
    row = work.rows[at]
    return any(
        merge.top <= row <= merge.bottom and merge.right > merge.left
        for merge in work.grid.marks.merges
    )


# --- what titles and names supply --------------------------------------------------------------


def _sections(work: ListWork) -> dict[int, Section]:
    """The titles between the rows of a list whose joint or side they give, by row index."""
    if not work.found.sections:
        return {}
    names, bare = work.cells["connection"], _bare(work)
    ids = _Ids(work, bare)
    found = {}
    for row, section in titles(work.grid, work.found, work.known).items():
        at = row - work.start
        is_id = not any(section.title) and names[at] == section.shown
        if at in work.aside or (is_id and ids.like(section.shown)):
            continue
        if not any(section.title) and is_remark(section.shown):
            work.pass_over(at, f'a remark between the rows ("{section.shown}")')
            continue
        found[at] = section
        # What may be an identifier is a row as well as a title, and each is asked about.
        if not is_id or _is_title(work, at, section.shown, ids):
            work.pass_over(at, f'a title between the rows ("{section.shown}")')
    return found


def _supply(work: ListWork, sections: Mapping[int, Section]) -> None:
    """Joint and side of every row, where no column gives them."""
    found = work.found
    for meaning, given in found.given.items():
        if meaning not in found.sections:
            work.cells[meaning] = [given.text] * len(work.rows)
    for meaning in sorted(found.sections):
        _supply_by_section(work, meaning, sections)
    if found.dispute:
        _report_dispute(work, found.dispute)


def _report_dispute(work: ListWork, dispute: Dispute) -> None:
    """Titles and names that do not agree: nobody can tell for which joint or side the rows are."""
    what = " and the ".join(dispute.meanings)
    add = "columns" if len(dispute.meanings) > 1 else "a column"
    filled = [at for at in range(len(work.rows)) if at not in work.blank]
    work.cells.update({each: [""] * len(work.rows) for each in dispute.meanings})
    work.put_aside(filled, f"titles and names do not agree on the {what}")
    work.troubles.append(
        Trouble(
            dispute.places[0],
            f"{dispute.words}: they do not agree on the {what} of the rows, so none was used",
            f"correct the one that is wrong, or add {add} {quoted_list(dispute.meanings, 'and')}",
            others=dispute.places[1:],
        )
    )


class _Current(NamedTuple):
    """What the titles so far give; without it, what is said of the rows that lack it."""

    text: str
    before: str = "no column and no title gives the"
    behind: str = ""
    disputed: bool = False


def _supply_by_section(work: ListWork, meaning: str, sections: Mapping[int, Section]) -> None:
    """Titles between the rows hold for the rows below them, down to the next such title."""
    given = work.found.given.get(meaning)
    current = _Current(given.text if given else "")
    cells: list[str] = []
    lost: dict[_Current, list[int]] = {}
    for at in range(len(work.rows)):
        if section := sections.get(at):
            if meaning == "joint":
                current = _joint_of(section, current)
            else:
                current = _side_of(section, current, given.name if given else "")
        elif not current.text and at not in work.aside and at not in work.blank:
            lost.setdefault(current, []).append(at)
        cells.append(current.text)
    work.cells[meaning] = cells
    work.note(
        work.grid.place(work.grid.rows[work.found.heading]),
        f"the {meaning} of each row is that of the title above it",
    )
    for without, rows in lost.items():
        _report_without_section(work, meaning, without, rows)


def _joint_of(section: Section, current: _Current) -> _Current:
    """The joint below a title; one that could be a joint or not is asked about."""
    if section.title.joint:
        return _Current(section.title.joint)
    if section.title.side:
        return current
    return _Current("", behind=f' below the title "{section.shown}"')


def _side_of(section: Section, current: _Current, name: str) -> _Current:
    """The side below a title; one that is about no side leaves it as it is.

    A title that is a side, but not that of the sheet's name, is asked about, and so is one that
    speaks of a side without being one.
    """
    _, side, hint = section.title
    if side and name and not same_side(side, name):
        before = f'the title "{section.shown}" and the name of the sheet do not agree on the'
        return _Current("", before=before, disputed=True)
    if side:
        return _Current(side)
    other = hint and not same_side(hint, current.text)
    if other or (not section.title.joint and speaks_of_middle(section.shown)):
        return _Current("", behind=f' below the title "{section.shown}"')
    return current


def _report_without_section(
    work: ListWork, meaning: str, current: _Current, rows: list[int]
) -> None:
    work.put_aside(rows, f"no title above it gives its {meaning}")
    numbers = some([work.rows[at] for at in rows])
    remedy = f'add a column "{meaning}", or write "{meaning.capitalize()}: ..." in the title above'
    if current.disputed:
        remedy = f'correct the one that is wrong, or add a column "{meaning}"'
    work.troubles.append(
        Trouble(
            work.place(rows[0], work.columns["connection"]),
            f"{current.before} {meaning} of {numbers}{current.behind}",
            remedy,
        )
    )


# --- rows of a .csv ----------------------------------------------------------------------------


def report_widths(work: ListWork) -> None:
    """Rows of a .csv that are longer or shorter than the headings: cells may have moved."""
    widths = work.grid.widths
    if not widths:
        return
    wanted = widths[work.found.heading]
    indices = range(len(work.rows))
    longer = [
        at
        for at in indices
        if widths[work.start + at] > wanted and _filled_beyond(work, at, wanted)
    ]
    if longer:
        have = "rows have" if len(longer) > 1 else "row has"
        numbers = some([work.rows[at] for at in longer])
        found = f"{len(longer)} {have} more cells than the {wanted} headings ({numbers}): "
        work.troubles.append(
            Trouble(
                work.grid.place(work.rows[longer[0]]),
                f"{found}cells may have moved to the right",
                "put texts that hold the separator, and decimal commas, in quotes",
            )
        )
    shorter = [at for at in indices if widths[work.start + at] < wanted and at not in work.aside]
    if shorter:
        have = "rows have" if len(shorter) > 1 else "row has"
        numbers = some([work.rows[at] for at in shorter])
        words = f"{len(shorter)} {have} fewer cells than headings; the rest is blank ({numbers})"
        work.note(work.grid.place(work.rows[shorter[0]]), words)


def _filled_beyond(work: ListWork, at: int, wanted: int) -> bool:
    row = work.start + at
    return any(column[row] != "" for column in work.grid.columns[wanted:])
