"""A work card as plain text, for a terminal or a printer; in pages that cut no task."""

from collections.abc import Iterator

from joinmatrix.reports.card import Card, Task
from joinmatrix.reports.cautions import SAFETY
from joinmatrix.reports.text import counted, safe, wrapped

WIDTH = 80
PAGE_LINES = 60  # on A4 and on Letter at six lines an inch, with room above and below
_HANG = 10


def to_card_text(card: Card, encoding: str = "utf-8") -> str:
    """The card; pages are parted by form feeds and numbered."""
    blocks = [[safe(line, encoding) for line in block] for block in _blocks(card)]
    pages = _pages(blocks)
    total = len(pages)
    return "\f".join(
        "\n".join([*_head(card, number, total, encoding), *page]) + "\n"
        for number, page in enumerate(pages, 1)
    )


def _pages(blocks: list[list[str]]) -> list[list[str]]:
    """Blocks put on pages; one that does not fit any more begins the next page.

    Only a block that is longer than a page (very many look-alikes) is cut.
    """
    room = PAGE_LINES - 4
    pages: list[list[str]] = [[]]
    pieces = (
        block[start : start + room] for block in blocks for start in range(0, len(block), room)
    )
    for block in pieces:
        if pages[-1] and len(pages[-1]) + len(block) > room:
            pages.append([])
        pages[-1] += block
    return pages


def _head(card: Card, number: int, total: int, encoding: str) -> list[str]:
    page = f"page {number} of {total}"
    title = f"WORK CARD  {safe(card.title, encoding)}"
    lines = wrapped(title, WIDTH - len(page) - 2)
    lines[0] = f"{lines[0]:<{WIDTH - len(page)}}{page}"
    unit = f"unit {safe(card.unit, encoding)}" if card.unit else "unit ____________________"
    return [*lines, f"{unit}    {_as_of(card)}".rstrip(), "=" * WIDTH, ""]


def _as_of(card: Card) -> str:
    return f"as recorded up to {card.as_of}" if card.as_of else "nothing recorded yet"


def _blocks(card: Card) -> Iterator[list[str]]:
    """What must stay together, from top to bottom."""
    yield [*_lines(SAFETY), ""]
    if card.cautions:
        yield ["CAUTIONS", *(line for each in card.cautions for line in _lines(each, "! ")), ""]
    if card.holds:
        yield ["HOLDS on this work, to be cleared first"]
        for hold in card.holds:
            yield [
                *_lines(f"{hold.label}  {hold.finding.message}", "  "),
                *_lines(f"to clear: {hold.finding.clears}", "      "),
                "",
            ]
    yield from _swappable(card)
    yield [_count(card), ""]
    number = 0
    for section in card.sections:
        heading = ["", *_lines(section.title.upper()), "-" * WIDTH]
        for task in section.tasks:
            number += 1
            yield [*heading, *_task(number, task)]
            heading = []
    yield ["", "Lists this card was made from (SHA-256):"]
    for file, digest in card.digests.items():
        yield [*_lines(file, "  "), f"      {digest}"]
    yield ["", "Closed by ____________________   stamp ____________   date ______________"]


def _count(card: Card) -> str:
    text = f"{counted(card.tasks, 'task')} to do"
    return (
        f"{text}; {counted(card.done, 'act')} recorded already and not shown" if card.done else text
    )


def _swappable(card: Card) -> Iterator[list[str]]:
    if card.swappable:
        yield ["CAN BE SWAPPED BY HAND: compare both ends before mating"]
    for group in card.swappable:
        lines = _lines(f"{group.letter}  {group.where}: {group.told_by}", "  ")
        for id_, service, ports, part, remarks in group.members:
            more = "; ".join(
                text for text in (service, ports, f"part {part}" if part else "", remarks) if text
            )
            lines += _lines(f"{id_}: {more}", "     ")
        yield [*lines, ""]


def _task(number: int, task: Task) -> list[str]:
    """A task with its lines to sign: nothing of it goes to another page."""
    where = f"{task.joint} {task.side}".strip()
    swap = f"   see {task.swap} above" if task.swap else ""
    lines = [f"{number:>3}  [ ]  {task.do.upper():<8} {task.name}   ({where}){swap}"]
    lines += _lines(task.about, " " * _HANG)
    lines += _lines(task.ports, " " * _HANG)
    lines += _lines(f"when: {task.rule}", " " * _HANG)
    for remark in task.remarks:
        lines += _lines(remark, " " * _HANG)
    for hold in task.holds:
        lines += _lines(f"HOLD {hold.label}: see above", " " * _HANG)
    for reading in task.readings:
        lines += _lines(f"{reading}   read: ______________  tool: ______________", " " * _HANG)
    return [*lines, f"{' ' * _HANG}initials ____________   date and time ____________________", ""]


def _lines(text: str, before: str = "") -> list[str]:
    """Text wrapped, with something before the first line and as much room before the others."""
    if not text:
        return []
    first, *others = wrapped(text, WIDTH - len(before))
    return [before + first, *(" " * len(before) + line for line in others)]
