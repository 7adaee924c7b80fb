"""A workbook file as its parts: read, changed in place, put together again.

A marked copy must be the user's workbook and nothing less. Reading it into a spreadsheet library
and writing it out again loses pictures, charts, validations and stored formula results, so only
the parts that carry marks are touched here, and every other byte is copied.
"""

import io
import posixpath
import re
import zipfile
from typing import NamedTuple
from xml.dom import minidom
from xml.parsers.expat import ExpatError

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATION = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_TYPES = "[Content_Types].xml"
_ENCODING = re.compile(rb'^(?:\xef\xbb\xbf)?<\?xml[^>]*?encoding=["\']([A-Za-z0-9._-]+)["\']')


class RefusedError(Exception):
    """A workbook that cannot be marked without losing something; the text says what."""


class Relation(NamedTuple):
    """From one part to another: `target` is the name of the part, or an outside address."""

    id: str
    kind: str
    target: str
    outside: bool


class Package:
    """The parts of one workbook file; nothing is unpacked before it is asked for."""

    def __init__(self, raw: bytes) -> None:
        """Take the bytes of a file; RefusedError when they are no workbook that can be marked."""
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(raw))
        except zipfile.BadZipFile:
            raise RefusedError("it is no workbook, or it is locked with a password") from None
        self._names = set(self._zip.namelist())
        self._changed: dict[str, bytes] = {}
        if any(name.startswith("_xmlsignatures/") for name in self._names):
            raise RefusedError("it is signed, and a mark would make the signature void")
        self.workbook_part = self._workbook_part()

    def _workbook_part(self) -> str:
        for relation in self.relations(""):
            if relation.kind.endswith("/officeDocument"):
                root = root_of(self.document(relation.target))
                if root.namespaceURI == _STRICT:
                    raise RefusedError(
                        "it is saved in the strict variant of the format; save it as a usual .xlsx"
                    )
                return relation.target
        raise RefusedError("it is no .xlsx; save it as one to have it marked")

    def has(self, name: str) -> bool:
        """Whether there is such a part."""
        return name in self._names or name in self._changed

    def text(self, name: str) -> str:
        """The text of a part; RefusedError when it is not there or not UTF-8."""
        if name in self._changed:
            return self._changed[name].decode("utf-8")
        try:
            raw = self._zip.read(name)
        except (KeyError, zipfile.BadZipFile, RuntimeError):
            raise RefusedError(f"its part {name} cannot be read") from None
        declared = _ENCODING.match(raw)
        if declared and declared.group(1).lower() not in (b"utf-8", b"utf8", b"us-ascii"):
            raise RefusedError(f"its part {name} is not in UTF-8")
        try:
            text = raw.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise RefusedError(f"its part {name} is not in UTF-8") from None
        if "<!DOCTYPE" in text:
            raise RefusedError(f"its part {name} declares a document type")
        return text

    def document(self, name: str) -> minidom.Document:
        """A small part as a tree, which keeps prefixes and order as they are."""
        try:
            return minidom.parseString(self.text(name).encode("utf-8"))
        except ExpatError:
            raise RefusedError(f"its part {name} is damaged") from None

    def put(self, name: str, content: str | minidom.Document) -> None:
        """Change a part, or add one (then see `declare`)."""
        if isinstance(content, str):
            self._changed[name] = content.encode("utf-8")
        else:
            self._changed[name] = content.toxml(encoding="UTF-8", standalone=True)

    def free_name(self, pattern: str) -> str:
        """The first name of a pattern with "{}" in it that no part has."""
        number = 1
        while self.has(pattern.format(number)):
            number += 1
        return pattern.format(number)

    def declare(self, name: str, content_type: str) -> None:
        """Say what a new part is."""
        types = self.document(_TYPES)
        _append(types, "Override", PartName=f"/{name}", ContentType=content_type)
        self.put(_TYPES, types)

    def declare_extension(self, extension: str, content_type: str) -> None:
        """Say what all parts of an extension are, where that is not said yet."""
        types = self.document(_TYPES)
        said = types.getElementsByTagNameNS("*", "Default")
        if not any(each.getAttribute("Extension").lower() == extension for each in said):
            _append(types, "Default", Extension=extension, ContentType=content_type)
            self.put(_TYPES, types)

    def relations(self, part: str) -> list[Relation]:
        """Where a part leads to ("" is the file as a whole)."""
        name = _relations_part(part)
        if not self.has(name):
            return []
        found = self.document(name).getElementsByTagNameNS("*", "Relationship")
        return [
            Relation(
                each.getAttribute("Id"),
                each.getAttribute("Type"),
                each.getAttribute("Target")
                if each.getAttribute("TargetMode") == "External"
                else _resolved(part, each.getAttribute("Target")),
                each.getAttribute("TargetMode") == "External",
            )
            for each in found
        ]

    def relate(self, part: str, kind: str, target: str, *, outside: bool = False) -> str:
        """Lead a part to another, or to an outside address; gives the id to name it by."""
        name = _relations_part(part)
        if not self.has(name):
            self.put(name, f'<Relationships xmlns="{_PACKAGE}/relationships"/>')
        relations = self.document(name)
        taken = {each.id for each in self.relations(part)}
        number = len(taken) + 1
        while f"rId{number}" in taken:
            number += 1
        attributes = {"Id": f"rId{number}", "Type": f"{RELATION}/{kind}"}
        if outside:
            attributes |= {"Target": target, "TargetMode": "External"}
        else:
            attributes["Target"] = f"/{target}"
        _append(relations, "Relationship", **attributes)
        self.put(name, relations)
        return attributes["Id"]

    def to_bytes(self) -> bytes:
        """The file: parts in their order, changed ones in place, new ones at the end."""
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for info in self._zip.infolist():
                content = self._changed.get(info.filename)
                if content is None:
                    content = self._zip.read(info.filename)
                archive.writestr(_entry(info.filename, info.date_time), content)
            for name, content in self._changed.items():
                if name not in self._names:
                    archive.writestr(_entry(name, (1980, 1, 1, 0, 0, 0)), content)
        return out.getvalue()


def _entry(name: str, date: tuple[int, int, int, int, int, int]) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, date)
    entry.compress_type = zipfile.ZIP_DEFLATED
    return entry


def _relations_part(part: str) -> str:
    folder, name = posixpath.split(part)
    return posixpath.join(folder, "_rels", f"{name}.rels")


def _resolved(part: str, target: str) -> str:
    if target.startswith("/"):
        return posixpath.normpath(target).lstrip("/")
    return posixpath.normpath(posixpath.join(posixpath.dirname(part), target))


def _append(document: minidom.Document, name: str, /, **attributes: str) -> None:
    root_of(document).appendChild(element(document, name, **attributes))


def root_of(document: minidom.Document) -> minidom.Element:
    """The outermost element."""
    root = document.documentElement
    assert root is not None  # a document that was read has one
    return root


def copy_of(original: minidom.Element) -> minidom.Element:
    """An element like another, with all that is in it."""
    made = original.cloneNode(deep=True)
    assert isinstance(made, minidom.Element)
    return made


def element(document: minidom.Document, name: str, /, **attributes: str) -> minidom.Element:
    """A new element in the namespace of the root, with the root's prefix."""
    root = root_of(document)
    full = f"{root.prefix}:{name}" if root.prefix else name
    made = document.createElementNS(root.namespaceURI, full)
    for key, value in attributes.items():
        made.setAttribute(key, value)
    return made


def children(parent: minidom.Element, name: str = "") -> list[minidom.Element]:
    """The elements right below another, of one local name if it is given."""
    return [
        each
        for each in parent.childNodes
        if isinstance(each, minidom.Element) and name in ("", each.localName)
    ]
