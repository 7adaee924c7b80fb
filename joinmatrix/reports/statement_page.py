"""The sign-off statement as a page to print, sign and keep."""

from collections.abc import Iterable, Sequence

from joinmatrix.answers.statement import SAFETY, Statement, statement_object
from joinmatrix.place import Place
from joinmatrix.reports.markup import listed, name, shown, tag
from joinmatrix.reports.phrases import MARKS
from joinmatrix.reports.printed import printed_page


def to_statement_page(statement: Statement) -> str:
    """The statement as one file of HTML that prints on A4 and on Letter."""
    title = f"Sign-off statement, unit {statement.unit}" if statement.unit else "Sign-off statement"
    parts = (
        _head(statement),
        tag("p", shown(SAFETY), class_="safety"),
        tag("p", f"{MARKS['clear']} CLEAR", class_="large"),
        _counts(statement),
        _agreed(statement),
        _listed("Not checked", _unchecked(statement)),
        _listed("Notes", [f"{number:,} {shown(kind)}" for kind, number in statement.notes.items()]),
        _inputs(statement),
        _signatures(),
    )
    footer = f"{title}; {statement.date}"
    return printed_page(shown(title), footer, "\n".join(filter(None, parts)))


def _head(statement: Statement) -> str:
    unit = name(statement.unit) or "none named by the record"
    as_of = shown(statement.as_of) or "the latest time of the record"
    return tag(
        "header",
        tag("div", tag("h1", "Sign-off statement"), tag("p", f"unit <b>{unit}</b>")),
        tag(
            "div",
            tag("p", f"made {shown(statement.date)} for {name(statement.by)}"),
            tag("p", f"judged as of {as_of}; {shown(statement.program)}"),
            class_="unit",
        ),
    )


def _counts(statement: Statement) -> str:
    rows = [
        (each.joint, each.side, f"{each.connections:,}", f"{each.made:,}", f"{each.inspected:,}")
        for each in statement.counts
    ]
    heads = ("joint", "side", "connections", "made", "inspected")
    return _table("Connections that it covers", heads, rows)


def _agreed(statement: Statement) -> str:
    rows = [
        (
            each.joint,
            each.connection or each.service,
            each.side,
            each.column or "existence",
            each.reason,
            each.approved_by,
            f"{Place(each.file, each.sheet)}, row {each.row}",
        )
        for each in statement.agreed
    ]
    heads = ("joint", "connection or service", "side", "what", "reason", "approved by", "agreed in")
    return _table("Agreed differences that it relies on", heads, rows) if rows else ""


def _unchecked(statement: Statement) -> list[str]:
    return [f"{shown(', '.join(each.kinds))}: {shown(each.why)}" for each in statement.unchecked]


def _inputs(statement: Statement) -> str:
    files = "".join(
        f"<div>{shown(each.file)} ({each.size:,} bytes) {each.sha256}</div>"
        for each in statement.inputs.files
    )
    seal = shown(str(statement_object(statement)["seal"]))
    return tag(
        "section",
        tag("h2", "Files that it was made from (SHA-256)"),
        tag("div", files, class_="digests"),
        tag("h2", "Seal of this statement"),
        tag("div", seal, class_="digests"),
    )


def _signatures() -> str:
    lines = "".join(
        tag("p", f"{word} <span></span> stamp <span></span> date <span></span>", class_="close")
        for word in ("Inspected", "Released")
    )
    return tag("section", lines)


def _table(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    head = "".join(f'<th scope="col">{word}</th>' for word in heads)
    body = "".join(f"<tr>{''.join(f'<td>{name(text)}</td>' for text in row)}</tr>" for row in rows)
    return (
        f'<table class="free"><caption>{title}</caption><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table>"
    )


def _listed(title: str, items: Sequence[str]) -> str:
    return tag("section", tag("h2", title), listed(items)) if items else ""
