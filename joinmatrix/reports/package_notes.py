"""Cell notes of a sheet: added to those that are there, in the drawing that shows them.

A note is kept twice in a workbook: its text in one part, its frame in a drawing of an old kind.
"""

import re
from collections.abc import Mapping
from xml.dom import minidom

from joinmatrix.reports.package import (
    MAIN,
    RELATION,
    Package,
    RefusedError,
    children,
    element,
    root_of,
)
from joinmatrix.reports.package_sheet import SheetText, cell_text

_AUTHOR = "joinmatrix"
_EMPTY = f'<comments xmlns="{MAIN}"><authors/><commentList/></comments>'
_NOTES_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml"
_DRAWING_TYPE = "application/vnd.openxmlformats-officedocument.vmlDrawing"
# Declared at each shape, as the drawing that it is added to may use other prefixes.
_PREFIXES = (
    'xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office" '
    'xmlns:x="urn:schemas-microsoft-com:office:excel"'
)
_SHAPE_TYPE = (
    f'<v:shapetype {_PREFIXES} id="_x0000_t202" coordsize="21600,21600" o:spt="202" '
    'path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/>'
    '<v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>'
)
_DRAWING = (
    f'<xml {_PREFIXES}><o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="1"/>'
    f"</o:shapelayout>{_SHAPE_TYPE}</xml>"
)
_FRAME = (
    '<v:shape {prefixes} id="_x0000_s{id}" type="#_x0000_t202" '
    'style="position:absolute;margin-left:80pt;margin-top:5pt;width:260pt;'
    'height:120pt;z-index:1;visibility:hidden" fillcolor="#ffffe1" '
    'o:insetmode="auto"><v:fill color2="#ffffe1"/><v:shadow on="t" color="black" obscured="t"/>'
    '<v:path o:connecttype="none"/><v:textbox style="mso-direction-alt:auto"><div '
    'style="text-align:left"></div></v:textbox><x:ClientData ObjectType="Note">'
    "<x:MoveWithCells/><x:SizeWithCells/><x:Anchor>{left}, 15, {top}, 2, {right}, 15, {bottom}, 4"
    "</x:Anchor><x:AutoFill>False</x:AutoFill><x:Row>{row}</x:Row><x:Column>{column}</x:Column>"
    "</x:ClientData></v:shape>"
)
_FIRST_SHAPE = 1025

Cell = tuple[int, int]  # row, column; 1-based


def add_notes(
    package: Package, part: str, sheet: SheetText, notes: Mapping[Cell, tuple[str, str]]
) -> None:
    """Add notes to a sheet.

    notes   (row, column) -> the cell as "D14" and the text
    raises  RefusedError when the sheet keeps its notes in a way that cannot be added to
    """
    if not notes:
        return
    there = _add_texts(package, part, dict(notes.values()))
    new = [cell for cell, (reference, _) in notes.items() if reference not in there]
    _add_frames(package, part, sheet, new)


def _add_texts(package: Package, part: str, texts: Mapping[str, str]) -> set[str]:
    """Add the texts; gives the cells that had a note already, which goes on in the same note."""
    name = _related(package, part, f"{RELATION}/comments")
    if not name:
        name = package.free_name("xl/comments{}.xml")
        package.put(name, _EMPTY)
        package.declare(name, _NOTES_TYPE)
        package.relate(part, "comments", name)
    document = package.document(name)
    root = root_of(document)
    (authors,), (entries,) = children(root, "authors"), children(root, "commentList")
    author = element(document, "author")
    author.appendChild(document.createTextNode(_AUTHOR))
    authors.appendChild(author)
    number = str(len(children(authors)) - 1)
    there = {each.getAttribute("ref"): each for each in children(entries, "comment")}
    for reference, text in texts.items():
        if reference in there:
            _continue(document, there[reference], text)
        else:
            comment = element(document, "comment", ref=reference, authorId=number)
            body = element(document, "text")
            body.appendChild(_run(document, text))
            comment.appendChild(body)
            entries.appendChild(comment)
    package.put(name, document)
    return set(there) & set(texts)


def _continue(document: minidom.Document, comment: minidom.Element, text: str) -> None:
    for body in children(comment, "text"):
        if not body.getElementsByTagNameNS("*", "r"):
            for bare in children(body, "t"):  # bare text and runs do not stand side by side
                run = element(document, "r")
                body.replaceChild(run, bare)
                run.appendChild(bare)
        body.appendChild(_run(document, f"\n{text}"))


def _run(document: minidom.Document, text: str) -> minidom.Element:
    run, body = element(document, "r"), element(document, "t")
    body.setAttribute("xml:space", "preserve")
    # The tree escapes markup itself; what no file can hold is taken out before.
    body.appendChild(document.createTextNode(_unescaped(cell_text(text))))
    run.appendChild(body)
    return run


def _unescaped(text: str) -> str:
    return text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")


def _add_frames(package: Package, part: str, sheet: SheetText, cells: list[Cell]) -> None:
    relation = sheet.drawing_of_notes()
    if relation:
        targets = [each.target for each in package.relations(part) if each.id == relation]
        if not targets:
            raise RefusedError("the drawing of the notes of a sheet is missing")
        name = targets[0]
    else:
        name = package.free_name("xl/drawings/vmlDrawing{}.vml")
        package.put(name, _DRAWING)
        package.declare_extension("vml", _DRAWING_TYPE)
        sheet.set_drawing_of_notes(package.relate(part, "vmlDrawing", name))
    drawing = package.text(name)
    end = drawing.rfind("</xml>")
    if end < 0:
        raise RefusedError("the drawing of the notes of a sheet is written in an unusual way")
    taken = [int(each) for each in re.findall(r"_x0000_s(\d+)", drawing)]
    first = max([_FIRST_SHAPE - 1, *taken]) + 1
    frames = "" if "_x0000_t202" in drawing else _SHAPE_TYPE
    frames += "".join(_frame(number, cell) for number, cell in enumerate(cells, first))
    package.put(name, drawing[:end] + frames + drawing[end:])


def _frame(number: int, cell: Cell) -> str:
    row, column = cell[0] - 1, cell[1] - 1
    return _FRAME.format(
        prefixes=_PREFIXES, id=number, row=row, column=column,
        left=column + 1, right=column + 5, top=max(row - 1, 0), bottom=row + 6,
    )  # fmt: skip


def _related(package: Package, part: str, kind: str) -> str:
    return next((each.target for each in package.relations(part) if each.kind == kind), "")
