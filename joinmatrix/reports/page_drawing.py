"""The drawing of the assembly: each joint with the faces of its sides, and the routes between.

A face is a grid with one square for each connection. Two alike sides lie mirrored about a
centre line, so that a pair lies opposite and what is missing on one side is a hole. How
full a square is tells how far the connection is; a letter in it tells of a finding.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from joinmatrix.assembly.standing import State
from joinmatrix.reports.markup import shown, tag
from joinmatrix.reports.matrix import Block, Cell, Row, Sheet
from joinmatrix.reports.page_matrix import Indexed

_GAP = 3
_SIZES = ((40, 22.0), (80, 18.0), (250, 13.0), (math.inf, 9.0))  # of squares, by the largest face
_LABEL = 22
_BETWEEN = 56
_MARGIN = 16
_ABOVE = 0  # the level of the faces above the centre line
_FULL = {State.LISTED: 0.0, State.PLACED: 1 / 3, State.MADE: 2 / 3, State.INSPECTED: 1.0}


@dataclass(frozen=True, slots=True)
class _Face:
    """One side of one joint in the drawing.

    rows    one for each square, None where the grid stays empty
    upward  it lies above the centre line and is filled from there
    """

    joint: int
    side: str
    rows: tuple[Row, ...]
    columns: int
    left: float
    top: float
    size: float
    upward: bool

    @property
    def width(self) -> float:
        return self.columns * (self.size + _GAP) - _GAP

    @property
    def height(self) -> float:
        return max(math.ceil(len(self.rows) / self.columns), 1) * (self.size + _GAP) - _GAP

    def corner(self, number: int) -> tuple[float, float]:
        """Where a square lies."""
        line, column = divmod(number, self.columns)
        step = self.size + _GAP
        y = (
            self.top + self.height - self.size - line * step
            if self.upward
            else self.top + line * step
        )
        return self.left + column * step, y


def drawing(indexed: Indexed) -> str:
    """The drawing with what it means in words."""
    faces, width, height = _faces(indexed)
    if not faces:
        return ""
    lines = "".join(_bundles(faces, indexed))
    squares = "".join(_face(face, indexed) for face in faces)
    labels = "".join(_labels(faces, indexed.sheets, height))
    svg = (
        f'<svg viewBox="0 0 {width:.0f} {height:.0f}" width="{width:.0f}" height="{height:.0f}" '
        f'role="img" aria-labelledby="drawn"><g class="bundles">{lines}</g>{squares}{labels}'
        '<path id="way" d=""/></svg>'
    )
    words = (
        "Joints from left to right. A square is a connection: empty is nothing done, a third full "
        "placed, two thirds made, full inspected; H, O and N are a hold, open work and a note; a "
        "dashed square is missing on that side. Lines between joints are routes, with their number."
    )
    keys = " Arrow keys go from square to square, Enter selects, Escape closes."
    return tag(
        "section",
        tag("h2", "Drawing"),
        tag("p", words, tag("span", keys, class_="js", hidden=""), id="drawn", class_="legend"),
        tag("div", svg, class_="scroll", id="sheet", tabindex="0", role="group",
            aria_label="Drawing of the joints"),
        id="drawing",
    )  # fmt: skip


def _faces(indexed: Indexed) -> tuple[list[_Face], float, float]:
    """The faces in columns by joint, and the size of the whole."""
    largest = max((len(block.rows) for each in indexed.blocks for block in each), default=0)
    size = next(size for most, size in _SIZES if largest <= most)
    joints = [_bands(each) for each in indexed.blocks]
    heights = [_heights([levels[level] for levels in joints], size) for level in range(3)]
    tops, bottom = _tops(heights)
    faces: list[_Face] = []
    x = float(_MARGIN)
    for joint, levels in enumerate(joints):
        widest = 8.0 * len(indexed.sheets[joint].joint)
        for level, bands in enumerate(levels):
            for number, (side, rows) in enumerate(bands):
                top = tops[level][number]
                if level == _ABOVE:  # it stands on the line below it
                    top += heights[level][number] - _height(rows, size)
                columns = _columns(len(rows))
                face = _Face(joint, side, rows, columns, x, top, size, upward=level == _ABOVE)
                faces.append(face)
                widest = max(widest, face.width)
        x += widest + _BETWEEN
    return faces, x - _BETWEEN + _MARGIN, bottom + _MARGIN


def _heights(of_joints: Sequence[Sequence["_Band"]], size: float) -> list[float]:
    """The height of each band of one level: that of its highest face."""
    count = max(map(len, of_joints), default=0)
    return [
        max(_height(bands[number][1], size) for bands in of_joints if number < len(bands))
        for number in range(count)
    ]


def _tops(heights: Sequence[Sequence[float]]) -> tuple[list[list[float]], float]:
    """Where each band begins, level by level, and where all end."""
    above, middle, below = heights
    y = float(_MARGIN + _LABEL)
    tops: list[list[float]] = []
    for level in (above[::-1], middle, below):
        tops.append([])
        for height in level:
            tops[-1].append(y)
            y += height + _LABEL
    tops[_ABOVE].reverse()  # the nearest to the line comes first
    return tops, y


_Band = tuple[str, tuple[Row, ...]]


def _bands(blocks: Sequence[Block]) -> tuple[list[_Band], list[_Band], list[_Band]]:
    """The sides above the centre line (nearest first), on it, and below it (nearest first)."""
    above: list[_Band] = []
    middle: list[_Band] = []
    below: list[_Band] = []
    for block in blocks:
        sides, rows = block.sides, block.rows
        if len(sides) == 1:
            middle.append((sides[0], rows))
            continue
        mirrored = sides[:1] if len(sides) == 2 else ()  # three blades have no centre line
        above += [(side, rows) for side in mirrored]
        below += [(side, rows) for side in sides[len(mirrored) :]]
    return above, middle, below


def _columns(count: int) -> int:
    return max(min(count, 6), math.ceil(math.sqrt(count * 1.6)))


def _height(rows: Sequence[Row], size: float) -> float:
    count = len(rows)
    return max(math.ceil(count / _columns(count)), 1) * (size + _GAP) - _GAP


def _face(face: _Face, indexed: Indexed) -> str:
    squares = "".join(
        _square(row.cells.get(face.side), face, number, indexed)
        for number, row in enumerate(face.rows)
    )
    label = (
        f'<text class="side" x="{face.left:.0f}" y="{face.top - 6:.0f}">{shown(face.side)}</text>'
    )
    return f'<g class="face" data-j="{face.joint}" data-s="{shown(face.side)}">{label}{squares}</g>'


def _square(cell: Cell | None, face: _Face, number: int, indexed: Indexed) -> str:
    x, y = face.corner(number)
    size = face.size
    box = f'x="{x:.0f}" y="{y:.0f}" width="{size:.0f}" height="{size:.0f}"'
    if cell is None:
        return f'<rect class="no" {box}/>'
    full = size * _FULL[cell.standing.state]
    route = indexed.routes.get(cell.connection.key)
    data = "" if route is None else f' data-r="{route}"'
    filled = (
        f'<rect class="f" x="{x:.0f}" y="{y + size - full:.1f}" width="{size:.0f}" '
        f'height="{full:.1f}"/>'
        if full
        else ""
    )
    letter = ""
    if cell.findings:
        severity = cell.findings[0].finding.severity.value
        letter = (
            f'<text class="{severity}" x="{x + size / 2:.1f}" y="{y + size * 0.78:.1f}" '
            f'font-size="{size * 0.8:.0f}">{severity[0].upper()}</text>'
        )
    return (
        f'<g class="q" data-c="{indexed.numbers[cell.connection.key]}"{data}>'
        f"<rect {box}/>{filled}{letter}</g>"
    )


def _labels(faces: Sequence[_Face], sheets: Sequence[Sheet], height: float) -> Iterator[str]:
    """The names of the joints, under their faces."""
    for joint, sheet in enumerate(sheets):
        left = min(face.left for face in faces if face.joint == joint)
        yield (
            f'<text class="joint" data-j="{joint}" x="{left:.0f}" y="{height - 8:.0f}">'
            f"{shown(sheet.joint)}</text>"
        )


def _bundles(faces: Sequence[_Face], indexed: Indexed) -> Iterator[str]:
    """Lines between faces that share routes, thicker for more, with the number on it."""
    face_of = {(face.joint, face.side): face for face in faces}
    for (one, other), count in sorted(_shared(faces, indexed).items()):
        start, end = face_of[one], face_of[other]
        x1, y1 = start.left + start.width, start.top + start.height / 2
        x2, y2 = end.left, end.top + end.height / 2
        if other[0] - one[0] > 1:  # over or under the joints between
            lift = (min if start.upward else max)(
                (face.top - 10 if start.upward else face.top + face.height + 10)
                for face in faces
                if one[0] <= face.joint <= other[0] and face.upward == start.upward
            )
            middle = f"C{x1 + 40:.0f},{lift:.0f} {x2 - 40:.0f},{lift:.0f}"
            label_y = (y1 + y2) / 8 + lift * 0.75
        else:
            middle = f"C{(x1 + x2) / 2:.0f},{y1:.0f} {(x1 + x2) / 2:.0f},{y2:.0f}"
            label_y = (y1 + y2) / 2
        thick = 1.5 + 1.5 * math.log2(count)
        yield (
            f'<path data-a="{one[0]}" data-b="{other[0]}" stroke-width="{thick:.1f}" '
            f'd="M{x1:.0f},{y1:.0f} {middle} {x2:.0f},{y2:.0f}"/>'
            f'<text x="{(x1 + x2) / 2:.0f}" y="{label_y - 4:.0f}">{count}</text>'
        )


_Spot = tuple[int, str]


def _shared(faces: Sequence[_Face], indexed: Indexed) -> Counter[tuple[_Spot, _Spot]]:
    """How many routes pass from one face to another, along the order of the joints."""
    on_route: defaultdict[int, set[_Spot]] = defaultdict(set)
    for face in faces:
        for row in face.rows:
            cell = next((each for each in row.connections if each.key.side == face.side), None)
            route = indexed.routes.get(cell.key) if cell else None
            if route is not None:
                on_route[route].add((face.joint, face.side))
    shared: Counter[tuple[_Spot, _Spot]] = Counter()
    for spots in on_route.values():
        in_order = sorted(spots)
        shared.update((one, other) for one, other in pairwise(in_order) if one[0] != other[0])
    return shared
