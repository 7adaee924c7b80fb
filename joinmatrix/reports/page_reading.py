"""The part of the page that tells what was read, and what was not."""

from collections import defaultdict

from joinmatrix.lists.table import RowAccount
from joinmatrix.place import Place
from joinmatrix.report import Report
from joinmatrix.reports.markup import listed, shown, tag
from joinmatrix.reports.text import cells_text, row_ranges

MOST_CELLS = 12


def reading_section(report: Report) -> str:
    """The row account, the sheets not used, the checks that did not run, the remarks."""
    accounts = report.reading.accounts
    read, used = sum(each.read for each in accounts), sum(each.used for each in accounts)
    head = "".join(
        f'<th scope="col"{" class=n" if word in ("read", "used", "set aside") else ""}>{word}</th>'
        for word in ("file", "sheet", "list", "read", "used", "set aside", "why")
    )
    rows = "".join(map(_account, accounts))
    total = (
        f'<tr><th scope="row" colspan="3">all</th><td class="n">{read:,}</td>'
        f'<td class="n">{used:,}</td><td class="n">{read - used:,}</td><td></td></tr>'
    )
    not_used = [
        f"{shown(str(Place(each.file, each.sheet)))}: {shown(each.why)}" for each in report.not_used
    ]
    not_run = [
        f"{', '.join(kind.value for kind in each.kinds)}: {shown(each.why)}"
        for each in report.not_run
    ]
    return tag(
        "section",
        tag("h2", "What was read"),
        tag(
            "div",
            f'<table class="plain"><caption class="v">Rows read, used and set aside</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{rows}{total}</tbody></table>",
            class_="scroll", tabindex="0", role="region", aria_label="Rows of each list",
        ),
        _part("Not checked", not_run),
        _part("Sheets not used", not_used),
        _part("Remarks on how it was read", _remarks(report)),
        id="reading",
    )  # fmt: skip


def _account(account: RowAccount) -> str:
    rows: defaultdict[str, list[int]] = defaultdict(list)
    for row, why in account.aside:
        rows[why].append(row)
    whys = "".join(
        f"<div>row {row_ranges(numbers)}: {shown(why)}</div>" for why, numbers in rows.items()
    )
    return (
        f'<tr><th scope="row">{shown(account.file)}</th><td>{shown(account.sheet)}</td>'
        f'<td>{account.kind}</td><td class="n">{account.read:,}</td>'
        f'<td class="n">{account.used:,}</td><td class="n">{account.read - account.used:,}</td>'
        f"<td>{whys}</td></tr>"
    )


def _part(title: str, items: list[str]) -> str:
    return tag("h3", title) + listed(items) if items else ""


def _remarks(report: Report) -> list[str]:
    remarks: defaultdict[tuple[str, str], list[Place]] = defaultdict(list)
    for place, sentence in (*report.reading.notes, *report.assembly.notes):
        remarks[place.file, sentence].append(place)
    return [
        f"{shown(cells_text(places[:MOST_CELLS]))}"
        f"{f' and {len(places) - MOST_CELLS:,} more' if len(places) > MOST_CELLS else ''}"
        f": {shown(sentence)}"
        for (_, sentence), places in remarks.items()
    ]
