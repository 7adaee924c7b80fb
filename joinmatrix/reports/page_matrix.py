"""The part of the page that shows the joints and their matrices."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from joinmatrix.assembly.model import Connection, Entry, Key
from joinmatrix.assembly.ports import designed_routes, ports
from joinmatrix.assembly.standing import Standing, State
from joinmatrix.names import folded
from joinmatrix.report import JointSummary, Report
from joinmatrix.reports.markup import name, shown, tag
from joinmatrix.reports.matrix import Block, Cell, Numbered, Row, Sheet, blocks, sheets
from joinmatrix.reports.phrases import MARKS, SHAPES
from joinmatrix.reports.text import counted

MOST_MARKS = 6
MOST_ROWS = 6_000  # of a page; with more, those with findings are shown first
_RULES = (
    ("place", "place"),
    ("timing", "make"),
    ("inspect", "inspect"),
    ("closed_by", "closed by"),
    ("limits", "limits"),
    ("remarks", "remarks"),
)
_STEPS = {State.LISTED: 0, State.PLACED: 1, State.MADE: 2, State.INSPECTED: 3}
_STATE_WORDS = {
    State.LISTED: "nothing done",
    State.PLACED: "placed",
    State.MADE: "made",
    State.INSPECTED: "inspected",
}


@dataclass(frozen=True, slots=True)
class Indexed:
    """The joints with their rows, and a number for each connection.

    left_out  rows for which there is no room
    numbers  key of a connection -> the number by which the page knows it
    names    identifier as written -> as compared
    routes   key of a connection -> its route, where it has both ports
    sides    name -> the sides on which it exists
    joint_numbers  name of a joint, as compared -> its number
    """

    sheets: tuple[Sheet, ...]
    blocks: tuple[tuple[Block, ...], ...]
    left_out: int
    numbers: Mapping[Key, int]
    names: Mapping[str, str]
    routes: Mapping[Key, int]
    sides: Mapping[str, tuple[str, ...]]
    joint_numbers: Mapping[str, int]

    def key_of(self, written: str, sides: Sequence[str]) -> Key | None:
        """The connection that a finding names, on the first of its sides that has it."""
        folded_name = self.names.get(written) or folded(written)
        keys = (Key(folded_name, side) for side in sides or self.sides.get(folded_name, ()))
        return next((key for key in keys if key in self.numbers), None)


def index_of(report: Report, touched: Mapping[Key, list[Numbered]]) -> Indexed:
    """Lay out every joint once, for all parts of the page."""
    joints = tuple(sheets(report))
    laid_out = tuple(blocks(sheet, report, touched) for sheet in joints)
    shown_blocks, left_out = _limited(laid_out)
    connections = tuple(
        connection
        for several in shown_blocks
        for block in several
        for row in block.rows
        for connection in row.connections
    )
    sides: defaultdict[str, list[str]] = defaultdict(list)
    for each in connections:
        sides[each.key.name].append(each.key.side)
    return Indexed(
        joints,
        shown_blocks,
        left_out,
        {each.key: number for number, each in enumerate(connections)},
        {each.id: each.key.name for each in connections},
        _routes(report),
        {key: tuple(several) for key, several in sides.items()},
        {sheet.joint_key: number for number, sheet in enumerate(joints)},
    )


def _limited(laid_out: tuple[tuple[Block, ...], ...]) -> tuple[tuple[tuple[Block, ...], ...], int]:
    """All rows, or the most that a page takes with those that need a look first."""
    rows = [row for several in laid_out for block in several for row in block.rows]
    if len(rows) <= MOST_ROWS:
        return laid_out, 0
    ranks = sorted(row.rank for row in rows)
    last = ranks[MOST_ROWS]
    room = MOST_ROWS - ranks.index(last)  # for rows of the last rank that is shown

    def chosen(block: Block) -> Block:
        nonlocal room
        kept = []
        for row in block.rows:
            if row.rank == last and room > 0:
                room -= 1
                kept.append(row)
            elif row.rank < last:
                kept.append(row)
        return replace(block, rows=tuple(kept))

    shown_blocks = tuple(tuple(map(chosen, several)) for several in laid_out)
    return shown_blocks, len(rows) - MOST_ROWS


def _routes(report: Report) -> dict[Key, int]:
    known, routes = ports(report.assembly), designed_routes(report.assembly)
    return {
        each.key: routes[start]
        for each, start in zip(known.connections, known.starts, strict=False)
    }


def joints_section(report: Report, indexed: Indexed) -> str:
    """Every joint: its sides in numbers, then its matrix."""
    joints = "".join(
        _joint(number, sheet, laid_out, report, indexed)
        for number, (sheet, laid_out) in enumerate(zip(indexed.sheets, indexed.blocks, strict=True))
    )
    left_out = (
        tag(
            "p",
            f"{counted(indexed.left_out, 'row')} without findings, or with lesser ones, "
            "are left out of this page. The verdict and the numbers are those of the whole.",
            class_="hold",
        )
        if indexed.left_out
        else ""
    )
    return tag("section", tag("h2", "Joints"), _legend(), left_out, joints, id="joints")


def _legend() -> str:
    boxes = (("PMI", "placed, made, inspected"), ("PM·", "not inspected yet"),
             ("P··", "placed only"), ("Pxx", "x: undone since"))  # fmt: skip
    shown_boxes = ", ".join(f"{_stamp(letters)} {words}" for letters, words in boxes)
    return tag(
        "p",
        f"{shown_boxes}. “none”: not listed on that side. "
        "■H hold, □O open, ◊N note lead to the finding of that number.",
        class_="legend",
    )


def _joint(
    number: int, sheet: Sheet, laid_out: Sequence[Block], report: Report, indexed: Indexed
) -> str:
    bars = "".join(_side(each, report.assembly.plan_only) for each in sheet.summaries)
    tables = "".join(_table(block, sheet, indexed) for block in laid_out if block.rows)
    return tag(
        "section",
        tag("h3", tag("a", name(sheet.joint), href=f"#j{number}"), id=f"h{number}"),
        tag("ul", bars, class_="sides"),
        tables,
        id=f"j{number}", class_="joint", data_j=number, aria_labelledby=f"h{number}",
    )  # fmt: skip


def _side(summary: JointSummary, plan_only: bool) -> str:
    mark = tag(
        "b",
        f"{MARKS[summary.verdict]} {summary.verdict.value}",
        class_=summary.verdict.value,
    )
    label = tag("b", name(summary.side), class_="label")
    if plan_only:
        return tag("li", label, " ", mark, " ", counted(summary.connections, "connection"))
    text = f"{summary.made:,} of {summary.connections:,} made, {summary.inspected:,} inspected"
    if summary.placed > summary.made:
        text += f", {summary.placed - summary.made:,} more placed"
    return tag("li", label, " ", mark, " ", _bar(summary), " ", tag("span", text))


def _bar(summary: JointSummary) -> str:
    """How far a side is; the words beside it say the same."""
    total = max(summary.connections, 1)
    done = summary.inspected
    parts = (("i", done), ("m", summary.made - done), ("p", summary.placed - summary.made))
    start, pieces = 0.0, ""
    for kind, number in parts:
        share = 100 * max(number, 0) / total
        if share:
            pieces += f'<rect class="{kind}" x="{start:.2f}" width="{share:.2f}" height="10"/>'
        start += share
    return (
        '<svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">'
        f'<rect class="o" width="100" height="10"/>{pieces}</svg>'
    )


def _table(block: Block, sheet: Sheet, indexed: Indexed) -> str:
    sides = "".join(
        tag("th", name(side), scope="col", class_="s", data_s=side) for side in block.sides
    )
    head = (
        f'<tr><th scope="col">connection</th>{sides}<th scope="col" class="carries">carries</th>'
        '<th scope="col" class="ports">ports</th><th scope="col">rules</th></tr>'
    )
    rows = "".join(_row(row, block.sides, indexed) for row in block.rows)
    label = f"{shown(sheet.joint)}, {shown(', '.join(block.sides))}"
    return (
        f'<table><caption class="v">{label}</caption><thead>{head}</thead>'
        f"<tbody>{rows}</tbody></table>"
    )


def _row(row: Row, sides: Sequence[str], indexed: Indexed) -> str:
    cells = row.cells
    first = indexed.numbers[row.connections[0].key]
    ids = " / ".join(map(name, row.ids))
    stamps = "".join(_cell(cells.get(side), side, indexed) for side in sides)
    carries = "".join(
        f"<div>{line}</div>" for line in (_said(row, "service"), _said(row, "type")) if line
    )
    return (
        f'<tr><th scope="row"><a href="#c{first}">{ids}</a></th>{stamps}'
        f"<td>{carries}</td><td>{_ports(row)}</td><td>{_rules(row)}</td></tr>"
    )


def _cell(cell: Cell | None, side: str, indexed: Indexed) -> str:
    if cell is None:
        return f'<td class="s" data-s="{shown(side)}">none</td>'
    key = cell.connection.key
    marks = "".join(f" {mark_link(each)}" for each in cell.findings[:MOST_MARKS])
    if len(cell.findings) > MOST_MARKS:
        marks += f" +{len(cell.findings) - MOST_MARKS}"
    route = indexed.routes.get(key)
    data = "" if route is None else f' data-r="{route}"'
    return (
        f'<td class="s" id="c{indexed.numbers[key]}" data-s="{shown(side)}" '
        f'data-d="{_STEPS[cell.standing.state]}"{data}>{_stamp(letters(cell.standing))}{marks}'
        f"<small>{_when(cell.standing)}</small></td>"
    )


def mark_link(each: Numbered) -> str:
    """A mark that leads to its finding: "■H3"."""
    severity = each.finding.severity.value
    return f'<a class="{severity}" href="#{each.label}">{SHAPES[severity]}{each.label}</a>'


def letters(standing: Standing) -> str:
    """The three stamps: placed, made, inspected; a dot where one is missing, x where undone."""
    made = "M" if standing.made else "x" if standing.opened else "·"
    placed = "P" if standing.placed or standing.made else "·"
    inspected = "I" if standing.inspected else "x" if standing.lapsed else "·"
    return placed + made + inspected


def _stamp(text: str) -> str:
    return f'<span class="st">{text}</span>'


def _when(standing: Standing) -> str:
    """The state in words, and when and by whom it was reached."""
    words = _STATE_WORDS[standing.state]
    entry = standing.inspected or standing.made or standing.placed
    if standing.opened:
        words, entry = "opened", standing.opened
    return f"{words} {_entry(entry)}".rstrip() if entry else words


def _entry(entry: Entry) -> str:
    by = f" {name(entry.by)}" if entry.by else ""
    return f"{shown(entry.when.text)}{by}"


def _said(row: Row, column: str) -> str:
    return "; ".join(
        f"{shown(side)}: {name(text) or 'blank'}" if side else name(text)
        for side, text in row.texts(column).items()
    )


def _ports(row: Row) -> str:
    """Ports, sizes and ends, once where all sides say the same."""
    lines = {each.key.side: _ends(each) for each in row.connections}
    different = set(lines.values())
    if len(different) == 1:
        return next(iter(different))
    return "".join(f"<div>{shown(side)}: {line}</div>" for side, line in lines.items())


def _ends(each: Connection) -> str:
    one = _end(each.from_port, each.from_size, each.from_end, each.from_key)
    other = _end(each.to_port, each.to_size, each.to_end, each.to_key)
    return f"{one or '?'} to {other or '?'}" if one or other else ""


def _end(port: str, size: str, end: str, key: str) -> str:
    more = ", ".join(name(each) for each in (size, end, f"key {key}" if key else "") if each)
    return f"{name(port)} ({more})" if port and more else name(port) or more


def _rules(row: Row) -> str:
    return "".join(f"<div>{line}</div>" for line in _rule_lines(row))


def _rule_lines(row: Row) -> Iterator[str]:
    for column, word in _RULES:
        for side, text in row.texts(column).items():
            on = f" on {shown(side)}" if side else ""
            yield f"<i>{word}{on}</i> {name(text) or 'nothing said'}"
