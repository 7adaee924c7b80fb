"""An .ods, written cell by cell."""

import html
import io
import zipfile

NAMES = " ".join(
    f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
    for name in ("office", "table", "text", "style", "draw", "number")
)
_CALC = 'xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'


def cell(text, attributes='office:value-type="string"'):
    shown = f"<text:p>{text}</text:p>" if text else ""
    return f"<table:table-cell {attributes}>{shown}</table:table-cell>"


def row(*cells, attributes=""):
    made = "".join(each if each.startswith("<") else cell(each) for each in cells)
    return f"<table:table-row {attributes}>{made}</table:table-row>"


TWO_BLANK = '<table:table-cell table:number-columns-repeated="2"/>'
HEAD = row("connection", "joint", "side", "type", "size")


def document(path, *rows, name="S", styles="", mimetype="spreadsheet", parts=None, before=""):
    content = (
        f'<?xml version="1.0"?>{before}<office:document-content {NAMES} {_CALC}>'
        f"<office:automatic-styles>{styles}</office:automatic-styles>"
        f'<office:body><office:spreadsheet><table:table table:name="{name}" '
        f'table:style-name="ta1">{"".join(rows)}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    made = {"mimetype": f"application/vnd.oasis.opendocument.{mimetype}", "content.xml": content}
    with zipfile.ZipFile(path, "w") as archive:
        for part, data in {**made, **(parts or {})}.items():
            archive.writestr(zipfile.ZipInfo(part), data)
    return path


def open_document(rows):
    """The bytes of an .ods with these rows of text."""
    out = io.BytesIO()
    document(out, *(row(*(html.escape(_legal(text)) for text in each)) for each in rows))
    return out.getvalue()


def _legal(text):
    return "".join(each for each in text if each >= " " or each in "\t\n\r")
