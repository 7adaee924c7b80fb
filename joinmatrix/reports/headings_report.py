"""How each sheet was understood: which heading was taken for what."""

from collections.abc import Iterator

from joinmatrix.lists.table import Reading, Understanding
from joinmatrix.reports.lines import PLAIN, Line, Paper

_NOT_READ = "(not read)"


def headings_lines(reading: Reading, paper: Paper) -> Iterator[Line]:
    """The headings of every list, column by column, and the sheets that are none."""
    for each in reading.understood:
        yield paper.plate(_title(each))
        for heading in each.headings:
            said = f"{heading.text}  =  {heading.meaning or _NOT_READ}"
            yield from paper.paragraph(said, 2, [(f"{heading.column:>3}  ", PLAIN)])
        for column, source in each.given:
            yield from paper.paragraph(f"no column says the {column}: it is {source}", 7)
        if each.missing:
            yield from paper.paragraph(f"missing to be a list: {', '.join(each.missing)}", 7)
        yield []
    for sheet in reading.not_used:
        where = f"{sheet.file}: {sheet.sheet}" if sheet.sheet else sheet.file
        yield from paper.paragraph(f"{where}: not used, {sheet.why}")
    yield from paper.paragraph(
        "A heading that was taken wrongly, or for nothing, can be set right for good in a file "
        'joinmatrix.toml beside the lists, with a line such as  [headings]  "Line no" = '
        '"connection"'
    )


def _title(each: Understanding) -> str:
    where = f"{each.file}: {each.sheet}" if each.sheet else each.file
    kind = f"{each.kind} list" if each.kind is not None else "no list"
    return f"{where}  {kind}, headings in row {each.row}"
