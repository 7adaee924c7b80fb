"""The columns of a list: which heading was taken for what, and the text of every cell."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from operator import is_
from typing import cast

from joinmatrix.lists.grid import Cell, Value
from joinmatrix.lists.headings import (
    DATE_COLUMNS,
    DATES_ALLOWED,
    NAMES,
    NUMBER_COLUMNS,
    ONE_LINE,
)
from joinmatrix.lists.meanings import Seen
from joinmatrix.lists.table import Trouble
from joinmatrix.lists.ticks import may_be_dated, tick_dates
from joinmatrix.lists.values import (
    all_text,
    clock_texts,
    dates_of,
    numbers_of,
    text_of,
    texts,
    with_unit,
)
from joinmatrix.lists.words import odd_characters
from joinmatrix.lists.work import MOST_TROUBLES, ListWork, some
from joinmatrix.names import folded, quoted_list
from joinmatrix.place import column_letters

_MOST_ODD = 10  # names of a column with odd characters that are noted
_RETYPE = "format the cell as text and type it again as it should read"
_EXACT_DIGITS = 1e15


# --- headings ----------------------------------------------------------------------------------


def note_headings(work: ListWork) -> None:
    """Say where the headings are, which were not read, and which mean the same."""
    found, grid = work.found, work.grid
    first = grid.rows[found.heading]
    if found.top:
        work.note(grid.place(first), f"the headings are in row {first}")
    if not work.rows:
        work.note(grid.place(first), f"has the headings of a {found.kind} list only")
    for meaning, given in found.given.items():
        work.note(grid.place(first), f'the {meaning} of every row is "{given.text}", {given.how}')
    unknown = [work.heading_name(each.column) for each in found.seen if not each.known]
    if unknown:
        work.note(grid.place(first), f"columns not read: {', '.join(unknown)}")
    _note_without_heading(work)
    for meaning, rivals in found.rivals.items():
        for rival in rivals:
            _report_rival(work, meaning, rival)
    _note_hidden_columns(work)


def _note_without_heading(work: ListWork) -> None:
    headed = {each.column for each in work.found.seen}
    left, right = work.found.span
    for column in range(left, right + 1):
        known = work.grid.distinct[column]
        if column in headed or (len(known) == 1 and "" in known):
            continue
        filled = next((at for at, each in enumerate(work.raw(column)) if each != ""), None)
        if filled is not None:
            words = f"column {column_letters(column + 1)} has no heading; its values were not read"
            work.note(work.place(filled, column), words)


def _report_rival(work: ListWork, meaning: str, rival: Seen) -> None:
    """Two headings that mean the same: of no concern where the cells say the same."""
    taken = work.columns[meaning]
    names = [work.heading_name(each) for each in (taken, rival.column)]
    place = work.heading_place(rival.column)
    sure = {each.column for each in work.found.seen if each.sure}
    if taken in sure and not rival.sure:
        work.note(place, f"column {names[1]} was not read: column {names[0]} is the {meaning}")
    elif work.raw(taken) == work.raw(rival.column):
        work.note(place, f"columns {names[0]} and {names[1]} both are the {meaning}, and agree")
    else:
        found = f"columns {names[0]} and {names[1]} both mean {meaning}; the first was read"
        remedy = "give the one that is not meant another heading, or delete it"
        work.troubles.append(Trouble(place, found, remedy))


def _note_hidden_columns(work: ListWork) -> None:
    hidden = work.grid.marks.hidden_columns
    names = [name for name, at in work.columns.items() if at + 1 in hidden] if hidden else []
    if names:
        words = f"hidden columns were read: {quoted_list(names, 'and')}"
        work.note(work.grid.place(), words)


# --- types -------------------------------------------------------------------------------------


def type_columns(work: ListWork) -> None:
    """Give every known column its texts; dates in date columns are ISO."""
    units = {each.column: each.unit for each in work.found.seen if each.unit}
    for meaning, column in work.columns.items():
        work.cells[meaning] = typed(work, meaning, column, units.get(column, ""))
    _put_units_beside(work, units)
    _add_limits(work)


def typed(
    work: ListWork,
    meaning: str,
    column: int,
    unit: str = "",
    *,
    numbers: bool = False,
    beside: Sequence[int] = (),
) -> list[str]:
    """The texts of one sheet column, read as what it means.

    numbers  whether it holds numbers, whatever the meaning
    beside   further columns of that meaning in a matrix, whose dates are written alike
    """
    if meaning in DATE_COLUMNS:
        return _dates(work, meaning, column, beside)
    if meaning == "time":
        clocks, bad = clock_texts(dict.fromkeys(work.raw(column)))
        work.report(meaning, work.where(column, bad), "write it as 10:30", column=column)
        return [clocks[value] for value in work.raw(column)]
    values = work.grid.distinct[column]
    known: Mapping[Value, str] = texts(values)
    if said := work.settings.words.get(meaning):
        known = {value: said.get(folded(text), text) for value, text in known.items()}
    if numbers or meaning in NUMBER_COLUMNS:
        known = _numbers(work, meaning, column, known)
    if meaning in _TICKS:
        known = _ticks(work, meaning, column, known, beside)
    if unit and meaning in _WITH_UNIT:
        known = {value: with_unit(text, unit) for value, text in known.items()}
    if unit and meaning == "limits":
        known = {value: _limit_with_unit(text, unit) for value, text in known.items()}
    return _texts(work, meaning, column, known)


def _dates(work: ListWork, meaning: str, column: int, beside: Sequence[int]) -> list[str]:
    # Only what stands below the headings may decide, so the heading itself is left out.
    dates = dates_of(dict.fromkeys(work.raw(column)), _values(work, beside))
    work.report(
        meaning,
        work.where(column, dates.bad),
        "write the date as 2026-03-04, or 2026-03-04 10:30 with a time",
        column=column,
    )
    if dates.order:
        work.note(work.heading_place(column), f"{meaning}: dates {dates.order}")
    return [dates.iso[value] for value in work.raw(column)]


def _values(work: ListWork, columns: Sequence[int]) -> dict[Value, None]:
    """The different values of some columns together."""
    return dict.fromkeys(value for each in columns for value in dict.fromkeys(work.raw(each)))


def _ticks(
    work: ListWork, meaning: str, column: int, known: Mapping[Value, str], beside: Sequence[int]
) -> Mapping[Value, str]:
    """Dates in ticks, in one order for the whole column."""
    if not any(map(may_be_dated, known.values())):
        return known
    used = [known[value] for value in dict.fromkeys(work.raw(column))]
    dates = tick_dates(used, map(text_of, _values(work, beside)))
    if dates.order:
        work.note(work.heading_place(column), f"{meaning}: dates {dates.order}")
    return {value: dates.read.get(text, text) for value, text in known.items()}


def _texts(work: ListWork, meaning: str, column: int, known: Mapping[Value, str]) -> list[str]:
    _report_odd_values(work, meaning, column)
    _report_odd_cells(work, meaning, column)
    _note_odd_characters(work, meaning, column)
    raw = work.raw(column)
    if all(map(is_, known, known.values())):
        return cast("list[str]", list(raw))
    return [known[value] for value in raw]


_TICKS = frozenset(("made", "inspected"))
# The unit of a reading, or of a tool's range, has a column of its own.
_WITH_UNIT = frozenset(("size", "from size", "to size", "extension", "wrench length"))


def _numbers(
    work: ListWork, meaning: str, column: int, known: Mapping[Value, str]
) -> Mapping[Value, str]:
    """One meaning of the comma and of the point for the whole column."""
    used = {value: known[value] for value in dict.fromkeys(work.raw(column))}
    numbers = numbers_of(used)
    if numbers.order:
        work.note(work.heading_place(column), f"{meaning}: numbers {numbers.order}")
    remedy = "write all numbers of the column with one decimal mark and none between thousands"
    work.report(meaning, work.where(column, numbers.bad), remedy, column=column)
    return {**known, **numbers.read}


def _report_odd_values(work: ListWork, meaning: str, column: int) -> None:
    """Values that a spreadsheet made of something else before they were saved."""
    if meaning in DATES_ALLOWED:
        return
    one_line = work.grid.separated and meaning in ONE_LINE
    words = all_text(work.grid.distinct[column])
    if words is not None and not (one_line and ("\n" in words or "\r" in words)):
        return
    odd: dict[Value, str] = {}
    broken: dict[Value, str] = {}
    for value in work.grid.distinct[column]:
        if isinstance(value, str):
            if one_line and ("\n" in value or "\r" in value):
                broken[value] = "the cell holds a line break"
        elif isinstance(value, date):
            shown = value.date() if isinstance(value, datetime) else value
            odd[value] = f"{shown} is a date; a spreadsheet makes dates of texts such as 3-4"
        elif isinstance(value, float) and abs(value) >= _EXACT_DIGITS:
            odd[value] = f"{value:.0f} is a number of more than 15 digits, and was rounded"
    work.report(meaning, work.where(column, odd), _RETYPE, column=column)
    remedy = "look for an inch mark that opens a quotation some lines above, and double it"
    work.report(meaning, work.where(column, broken), remedy, column=column)


def _report_odd_cells(work: ListWork, meaning: str, column: int) -> None:
    """Numbers of id and size columns that show something else than what is stored."""
    formats = work.grid.marks.formats
    if not formats or meaning not in ONE_LINE:
        return
    bad = {}
    for cell, shown in formats.items():
        if cell.column == column + 1 and (at := _index_of(work, cell)) is not None:
            value = work.grid.columns[column][work.start + at]
            if isinstance(value, float):
                bad[at] = f"the cell shows {shown}, and holds the number {value:.15g}"
    work.report(meaning, bad, _RETYPE, column=column)


def _note_odd_characters(work: ListWork, meaning: str, column: int) -> None:
    """Names with marks that nobody sees, or letters that look like those of another alphabet."""
    if meaning not in NAMES:
        return
    odd: dict[Value, str] = {}
    for value in work.grid.distinct[column]:
        if isinstance(value, str) and not value.isascii():
            for mark in odd_characters(value.strip()):
                odd.setdefault(value, mark)
    for at, mark in list(work.where(column, odd).items())[:_MOST_ODD]:
        work.note(work.place(at, column), f"{meaning}: the name has {mark} in it")


def _index_of(work: ListWork, cell: Cell) -> int | None:
    at = bisect_left(work.rows, cell.row)
    return at if at < len(work.rows) and work.rows[at] == cell.row else None


# --- units and limits --------------------------------------------------------------------------


def _put_units_beside(work: ListWork, units: Mapping[int, str]) -> None:
    """The unit in the heading of a reading goes into the column of units, where that is blank."""
    headed = next(
        (units[work.columns[name]] for name in ("value", "low", "high")
         if name in work.columns and work.columns[name] in units), ""
    )  # fmt: skip
    if not headed:
        return
    own = work.cells.get("unit", [""] * len(work.rows))
    filled = [name for name in ("value", "low", "high") if name in work.cells]
    work.cells["unit"] = [
        unit or (headed if any(work.cells[name][at] for name in filled) else "")
        for at, unit in enumerate(own)
    ]
    if "unit" not in work.columns:
        work.columns["unit"] = next(at for at in units if units[at] == headed)


def _add_limits(work: ListWork) -> None:
    """Columns headed by a measure ("Torque (Nm)", "Gap min") become limits of that measure."""
    groups: dict[str, list[Seen]] = {}
    for each in work.found.seen:
        if each.measure and not each.label:
            groups.setdefault(each.measure, []).append(each)
    for measure, columns in groups.items():
        parts = {each.bound: typed(work, "limits", each.column, numbers=True) for each in columns}
        unit = next((each.unit for each in columns if each.unit), "")
        words = [
            _limit(measure, unit, {bound: cells[at] for bound, cells in parts.items()})
            for at in range(len(work.rows))
        ]
        own = work.cells.get("limits", [""] * len(work.rows))
        work.cells["limits"] = [
            "; ".join(filter(None, pair)) for pair in zip(own, words, strict=True)
        ]
        work.columns.setdefault("limits", columns[0].column)


def _limit_with_unit(text: str, unit: str) -> str:
    """One limit with the unit of its heading; of several nobody knows which it goes with."""
    return text if any(mark in text for mark in ";\n") else with_unit(text, unit)


def _limit(measure: str, unit: str, said: Mapping[str, str]) -> str:
    """The cells of one measure in one row as the words of a limits cell."""
    whole, low, high = (said.get(bound, "") for bound in ("", "min", "max"))
    if low and high:
        bounds = f"{low}..{high}"
    elif low or high:
        bounds = f">= {low}" if low else f"<= {high}"
    else:
        bounds = ""
    return "; ".join(f"{measure} {with_unit(text, unit)}" for text in (whole, bounds) if text)


# --- errors, date and time ----------------------------------------------------------------------


def report_marks(work: ListWork) -> None:
    """Error cells, formulas without a result and struck-out cells, of the columns that are read."""
    marks = work.grid.marks
    names = {each.column + 1: each.meaning for each in work.found.seen if each.known}
    _report_marked(
        work,
        names,
        {cell: f"the cell shows the error {shown}" for cell, shown in marks.errors.items()},
        "mend the formula or type the value, and save",
    )
    _report_marked(
        work,
        names,
        dict.fromkeys(marks.uncalculated, "the cell has a formula without a result"),
        "open the workbook in a spreadsheet program and save it, so that it is worked out",
    )
    _report_struck(work, names)
    _report_zero_formulas(work, names)


def _report_marked(
    work: ListWork, names: Mapping[int, str], marked: Mapping[Cell, str], remedy: str
) -> None:
    by_column: dict[int, dict[int, str]] = {}
    for cell, words in marked.items():
        at = _index_of(work, cell)
        if at is not None and cell.column in names:
            by_column.setdefault(cell.column, {})[at] = words
    for column, bad in sorted(by_column.items()):
        work.report(names[column], bad, remedy, column=column - 1)


def _report_struck(work: ListWork, names: Mapping[int, str]) -> None:
    """People strike rows out to delete them; the program does not decide that."""
    struck = {
        at: cell
        for cell in sorted(work.grid.marks.struck, reverse=True)
        if cell.column in names and (at := _index_of(work, cell)) is not None
    }
    if struck:
        found = (
            f"text is struck out in {some([work.rows[at] for at in sorted(struck)])}; it was read"
        )
        remedy = "delete what no longer holds, or take the strike-out away"
        places = [work.grid.place(*struck[at]) for at in sorted(struck)[:MOST_TROUBLES]]
        work.troubles.append(
            Trouble(places[0], found, remedy, holds=False, others=tuple(places[1:]))
        )


def _report_zero_formulas(work: ListWork, names: Mapping[int, str]) -> None:
    """Some programs store 0 for formulas that they have not worked out."""
    for column, (formulas, zeros) in sorted(work.grid.marks.zero_formulas.items()):
        if column in names and zeros == formulas and zeros > 1:
            work.troubles.append(
                Trouble(
                    work.heading_place(column - 1),
                    f"{names[column]}: all {formulas} formulas of the column show 0, as formulas "
                    "do that were never worked out",
                    "open the workbook in a spreadsheet program, look at them, and save it",
                    holds=False,
                )
            )


def join_date_and_time(work: ListWork) -> None:
    """A record with the time of day in a column of its own."""
    clocks = work.cells.pop("time", None)
    if clocks is None:
        return
    if "when" not in work.cells:
        # The only column of time there is: it holds dates, whatever it is called.
        work.columns["when"] = work.columns["time"]
        work.unreadable = [each for each in work.unreadable if each.meaning != "time"]
        work.cells["when"] = typed(work, "when", work.columns["when"])
        return
    days = work.cells["when"]
    work.cells["when"] = [
        f"{day}T{clock}" if day and clock and "T" not in day else day
        for day, clock in zip(days, clocks, strict=True)
    ]
    _report_lost_times(work, days, clocks)


def _report_lost_times(work: ListWork, days: Sequence[str], clocks: Sequence[str]) -> None:
    """Times of day that no date stands with, or that their date contradicts."""
    lost = {pair: why for pair in set(zip(days, clocks, strict=True)) if (why := _lost(*pair))}
    if not lost:
        return
    reported = {at for each in work.unreadable if each.meaning == "when" for at in each.cells}
    bad = {
        at: lost[pair]
        for at, pair in enumerate(zip(days, clocks, strict=True))
        if pair in lost and at not in reported
    }
    when = work.heading_name(work.columns["when"])
    work.report("time", bad, f"write the date in column {when}, and one time of day for it")


def _lost(day: str, clock: str) -> str:
    """Why a time of day is not used beside this date, "" when it is."""
    if clock and not day:
        return f'"{clock}" has no date beside it, so when it was is not known'
    _, _, said = day.partition("T")
    if said and clock and not said.startswith(clock) and not clock.startswith(said):
        return f'"{clock}" is another time than that of its date, {day.replace("T", " ")}'
    return ""
