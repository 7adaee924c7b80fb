"""The styles of a workbook, with the fills and formats of the marks added at their ends.

What is there keeps its number, so no cell changes its look but those that are marked.
"""

from xml.dom import minidom

from joinmatrix.findings import Severity
from joinmatrix.reports.package import MAIN, RELATION, Package, children, copy_of, element, root_of
from joinmatrix.reports.phrases import MARKS

_ORDER = (
    "numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs",
    "tableStyles", "colors", "extLst",
)  # fmt: skip
_EMPTY = (
    f'<styleSheet xmlns="{MAIN}"><fonts count="1"><font><sz val="11"/><name val="Calibri"/></font>'
    '</fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill '
    'patternType="gray125"/></fill></fills><borders count="1"><border/></borders><cellXfs '
    'count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellXfs></styleSheet>'
)
_CONTENT_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"
# Pattern, its colour, the ground: they differ by hatching and by lightness, not only by hue.
_FILLS = {
    Severity.HOLD: ("solid", "FFFFC2AD", "FFFFC2AD"),
    Severity.OPEN: ("lightUp", "FF7FA9DD", "FFE3EEFB"),
    Severity.NOTE: ("gray0625", "FF8A8470", "FFF4F1DF"),
}
_FIRST_FREE_FORMAT = 164
# Colours that read on a pale fill: none at all, automatic, black, and the theme's text.
_DARK = {("auto", "1"), ("indexed", "64"), ("indexed", "8"), ("theme", "1"), ("rgb", "FF000000")}


class Styles:
    """Adds cell formats; each different one once."""

    def __init__(self, package: Package) -> None:
        """Read the styles of a workbook; a workbook without any gets the usual ones."""
        self._package = package
        self._part = _styles_part(package)
        self._document = package.document(self._part)
        self._root = root_of(self._document)
        self._marked: dict[tuple[int, Severity, bool], int] = {}
        self._plain: dict[tuple[bool, bool, bool, Severity | None], int] = {}
        self._fills: dict[Severity, int] = {}
        self._formats: dict[Severity, int] = {}
        self._dark_fonts: dict[int, int] = {}
        if not children(self._section("cellXfs")):
            self._add("cellXfs", element(self._document, "xf", numFmtId="0", fontId="0",
                                         fillId="0", borderId="0"))  # fmt: skip

    def marked(self, base: int, severity: Severity, *, is_text: bool) -> int:
        """The format of a cell with a mark on it: as it was, with the fill of the severity.

        A text is shown with shape and letter in front of it, by its number format; the value
        itself stays what it was.
        """
        key = (base, severity, is_text)
        if key not in self._marked:
            formats = children(self._section("cellXfs"), "xf")
            made = copy_of(formats[base if base < len(formats) else 0])
            made.setAttribute("fillId", str(self._fill(severity)))
            made.setAttribute("applyFill", "1")
            font = int(made.getAttribute("fontId") or 0)
            made.setAttribute("fontId", str(self._dark_font(font)))
            if is_text:
                made.setAttribute("numFmtId", str(self._format(severity)))
                made.setAttribute("applyNumberFormat", "1")
            self._marked[key] = self._add("cellXfs", made)
        return self._marked[key]

    def plain(self, *, bold: bool = False, link: bool = False, wrap: bool = False,
              severity: Severity | None = None) -> int:  # fmt: skip
        """A format for the cells that are added."""
        key = (bold, link, wrap, severity)
        if key not in self._plain:
            self._plain[key] = self._made(*key)
        return self._plain[key]

    def _made(self, bold: bool, link: bool, wrap: bool, severity: Severity | None) -> int:
        font = element(self._document, "font")
        if bold:
            font.appendChild(element(self._document, "b"))
        if link:
            font.appendChild(element(self._document, "u"))
        font.appendChild(element(self._document, "sz", val="11"))
        font.appendChild(element(self._document, "color", rgb="FF0B3D91" if link else "FF000000"))
        font.appendChild(element(self._document, "name", val="Calibri"))
        fill = self._fill(severity) if severity else 0
        made = element(self._document, "xf", numFmtId="49", fontId=str(self._add("fonts", font)),
                       fillId=str(fill), borderId="0", applyFont="1", applyFill="1",
                       applyAlignment="1", applyNumberFormat="1")  # fmt: skip
        alignment = element(self._document, "alignment", vertical="top")
        if wrap:
            alignment.setAttribute("wrapText", "1")
        made.appendChild(alignment)
        return self._add("cellXfs", made)

    def save(self) -> None:
        """Put the styles back into the workbook."""
        self._package.put(self._part, self._document)

    def _fill(self, severity: Severity) -> int:
        if severity not in self._fills:
            pattern, front, ground = _FILLS[severity]
            fill = element(self._document, "fill")
            body = element(self._document, "patternFill", patternType=pattern)
            body.appendChild(element(self._document, "fgColor", rgb=front))
            body.appendChild(element(self._document, "bgColor", rgb=ground))
            fill.appendChild(body)
            self._fills[severity] = self._add("fills", fill)
        return self._fills[severity]

    def _format(self, severity: Severity) -> int:
        if severity not in self._formats:
            section = self._section("numFmts")
            taken = [int(each.getAttribute("numFmtId") or 0) for each in children(section)]
            number = max([_FIRST_FREE_FORMAT - 1, *taken]) + 1
            code = f'General;General;General;"{MARKS[severity]} "@'
            self._add("numFmts", element(self._document, "numFmt", numFmtId=str(number),
                                         formatCode=code))  # fmt: skip
            self._formats[severity] = number
        return self._formats[severity]

    def _dark_font(self, number: int) -> int:
        """The font itself, or a dark copy: light letters would vanish on the pale fill."""
        if number not in self._dark_fonts:
            fonts = children(self._section("fonts"), "font")
            self._dark_fonts[number] = number
            if number < len(fonts) and not _is_dark(fonts[number]):
                copy = copy_of(fonts[number])
                for colour in children(copy, "color"):
                    for name in list(colour.attributes.keys()):
                        colour.removeAttribute(name)
                    colour.setAttribute("rgb", "FF000000")
                self._dark_fonts[number] = self._add("fonts", copy)
        return self._dark_fonts[number]

    def _section(self, name: str) -> minidom.Element:
        found = children(self._root, name)
        if found:
            return found[0]
        made = element(self._document, name, count="0")
        later = _ORDER[_ORDER.index(name) + 1 :]
        before = next((each for each in children(self._root) if each.localName in later), None)
        self._root.insertBefore(made, before)
        return made

    def _add(self, section_name: str, child: minidom.Element) -> int:
        section = self._section(section_name)
        section.appendChild(child)
        count = len(children(section))
        section.setAttribute("count", str(count))
        return count - 1


def _is_dark(font: minidom.Element) -> bool:
    return all(
        not colour.attributes.length
        or any((name, value) in _DARK for name, value in colour.attributes.items())
        for colour in children(font, "color")
    )


def _styles_part(package: Package) -> str:
    for relation in package.relations(package.workbook_part):
        if relation.kind == f"{RELATION}/styles":
            return relation.target
    name = package.free_name("xl/styles{}.xml")
    package.put(name, _EMPTY)
    package.declare(name, _CONTENT_TYPE)
    package.relate(package.workbook_part, "styles", name)
    return name
