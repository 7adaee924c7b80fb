"""A work card as a page to print, to be filled in by hand at the joint."""

from collections.abc import Sequence

from joinmatrix.reports.card import Card, Section, Swappable, Task
from joinmatrix.reports.cautions import SAFETY
from joinmatrix.reports.markup import listed, name, shown, tag
from joinmatrix.reports.printed import printed_page
from joinmatrix.reports.text import counted

_COLUMNS = (
    ("no", "no."), ("do", "do"), ("id", "connection"), ("what", "what, where to, when"),
    ("reading", "reading"), ("sign", "initials"), ("date", "date, time"),
)  # fmt: skip
_MOST_BESIDE = 5


def to_card_page(card: Card) -> str:
    """The card as one file of HTML that prints on A4 and on Letter."""
    footer = f"{card.title}; unit {card.unit}" if card.unit else card.title
    parts = [
        _head(card),
        tag("p", shown(SAFETY), class_="safety"),
        _cautions(card),
        _holds(card),
        _swappable(card.swappable),
        *_sections(card.sections),
        _end(card),
    ]
    return printed_page(f"Work card: {shown(card.title)}", footer, "\n".join(filter(None, parts)))


def _head(card: Card) -> str:
    unit = name(card.unit) if card.unit else "____________"
    as_of = f"as recorded up to {shown(card.as_of)}" if card.as_of else "nothing recorded yet"
    count = counted(card.tasks, "task")
    done = f", {counted(card.done, 'act')} recorded already" if card.done else ""
    return tag(
        "header",
        tag("div", tag("h1", f"Work card: {name(card.title)}"), tag("p", f"{count} to do{done}")),
        tag("div", tag("p", f"unit <b>{unit}</b>"), tag("p", as_of), class_="unit"),
    )


def _cautions(card: Card) -> str:
    if not card.cautions:
        return ""
    return tag(
        "section", tag("h2", "CAUTIONS"), listed(map(shown, card.cautions)), class_="cautions"
    )


def _holds(card: Card) -> str:
    if not card.holds:
        return ""
    items = (
        f"<b>■{each.label}</b> {shown(each.finding.message)} "
        f"<small>to clear: {shown(each.finding.clears)}</small>"
        for each in card.holds
    )
    return tag(
        "section",
        tag("h2", "Holds on this work, to be cleared first"),
        listed(items),
        class_="holds",
    )


def _swappable(groups: Sequence[Swappable]) -> str:
    """Look-alikes beside each other: a column each, so that they are compared line by line."""
    if not groups:
        return ""
    return tag(
        "section",
        tag("h2", "Can be swapped by hand: compare both ends before mating"),
        *map(_group, groups),
    )


def _group(group: Swappable) -> str:
    words = ("connection", "carries", "ports", "part", "remarks")
    lines = [
        (word, texts)
        for word, texts in zip(words, zip(*group.members, strict=True), strict=True)
        if any(texts)
    ]
    rows = _beside(lines) if len(group.members) <= _MOST_BESIDE else _below(lines)
    caption = f'<b class="swap">{group.letter}</b> {shown(group.where)}: {shown(group.told_by)}'
    return f"<table><caption>{caption}</caption>{rows}</table>"


_Lines = Sequence[tuple[str, Sequence[str]]]


def _beside(lines: _Lines) -> str:
    """A column for each member."""
    rows = "".join(
        f'<tr><th scope="row">{word}</th>{"".join(f"<td>{name(text)}</td>" for text in texts)}</tr>'
        for word, texts in lines
    )
    return f"<tbody>{rows}</tbody>"


def _below(lines: _Lines) -> str:
    """A row for each member, where columns for all of them would be too narrow to read."""
    head = "".join(f'<th scope="col">{word}</th>' for word, _ in lines)
    members = zip(*(texts for _, texts in lines), strict=True)
    rows = "".join(
        f"<tr>{''.join(f'<td>{name(text)}</td>' for text in member)}</tr>" for member in members
    )
    return f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody>"


def _sections(sections: Sequence[Section]) -> list[str]:
    made, number = [], 1
    for section in sections:
        head = "".join(f'<th scope="col" class="{key}">{word}</th>' for key, word in _COLUMNS)
        rows = "".join(_task(at, task) for at, task in enumerate(section.tasks, number))
        number += len(section.tasks)
        made.append(
            f'<table class="tasks"><caption>{shown(section.title)}</caption>'
            f"<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
        )
    return made or [tag("p", "Nothing is left to do here.")]


def _task(number: int, task: Task) -> str:
    swap = f' <b class="swap">{task.swap}</b>' if task.swap else ""
    holds = "".join(f" <b>■{each.label}</b>" for each in task.holds)
    where = f"{name(task.joint)} {name(task.side)}"
    about = "".join(
        f"<div>{text}</div>"
        for text in (name(task.about), name(task.ports), f"<b>when</b> {name(task.rule)}")
        if text
    )
    remarks = "".join(f"<small>{name(each)}</small>" for each in task.remarks)
    readings = "".join(
        f'{name(each)}<span class="read"><span class="v">write here</span></span>'
        for each in task.readings
    )
    return (
        f'<tr><td>{number}<span class="box"></span></td><td class="do">{task.do}</td>'
        f"<td><b>{name(task.name)}</b>{swap}{holds}<small>{where}</small></td>"
        f"<td>{about}{remarks}</td><td>{readings}</td><td></td><td></td></tr>"
    )


def _end(card: Card) -> str:
    digests = "".join(
        f"<div>{shown(file)} {shown(digest)}</div>" for file, digest in card.digests.items()
    )
    return tag(
        "section",
        tag("h2", "Lists this card was made from (SHA-256)"),
        tag("div", digests, class_="digests"),
        tag("p", "Closed by <span></span> stamp <span></span> date <span></span>", class_="close"),
    )
