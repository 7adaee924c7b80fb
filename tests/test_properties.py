"""What must hold for any lists: nothing is lost, and the order of things changes nothing."""

import csv
import random
from collections import Counter
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from joinmatrix.report import Report
from joinmatrix.verify import verify

HEADINGS = {
    "lines": ["connection", "joint", "side", "type", "service", "from", "to", "size", "timing"],
    "wires": ["connection", "joint", "side", "type", "from", "to", "made", "made on"],
    "steps": ["stage", "side", "timing"],
    "shop": ["when", "connection", "stage", "side", "act", "by"],
}
NAMES = st.sampled_from(["H-1", "H-2", "h-2 ", "E-1", "E-2", "C-7", ""])
JOINTS = st.sampled_from(["wing", "Wing", "fin", ""])
SIDES = st.sampled_from(["L", "R", "LH", "stbd", "both", "C", "Q", ""])
PORTS = st.sampled_from(["A1", "A2", "B1", "B2", ""])
TYPES = st.sampled_from(["line", "control rod", "connector"])
RULES = st.sampled_from(
    ["", "after mate", "before rig", "after mate L; before rig", "after maet", "any time"]
)
DATES = st.sampled_from(["", "2031-03-04", "2031-03-05", "2031-03-06 10:30", "soon"])
ROWS = {
    "lines": st.tuples(
        NAMES, JOINTS, SIDES, TYPES, st.sampled_from(["", "brake", "vent"]), PORTS, PORTS,
        st.sampled_from(["", "-6", "-8"]), RULES,
    ),
    "wires": st.tuples(
        NAMES, JOINTS, SIDES, TYPES, PORTS, PORTS, st.sampled_from(["", "x", "no", "?"]), DATES
    ),
    "steps": st.tuples(st.sampled_from(["mate", "rig", ""]), SIDES, RULES),
    "shop": st.tuples(
        DATES, NAMES, st.sampled_from(["", "mate", "rig"]), SIDES,
        st.sampled_from(["made", "placed", "inspected", "opened", "started", "done", "flown"]),
        st.sampled_from(["", "AB", "CD"]),
    ),
}  # fmt: skip
Lists = dict[str, list[tuple[str, ...]]]
# One good connection, so that there is always something to check.
GOOD = ("G-1", "wing", "both", "line", "drain", "G1", "G2", "-4", "")
LISTS = st.fixed_dictionaries(
    {name: st.lists(rows, max_size=6) for name, rows in ROWS.items()}
).map(lambda lists: lists | {"lines": [GOOD, *lists["lines"]]})
BOUNDED = settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


def columns_of(lists: Lists) -> dict[str, list[list[str]]]:
    """Each list as rows of texts, headings first."""
    return {
        name: [HEADINGS[name], *[list(row) for row in rows]] for name, rows in lists.items() if rows
    }


def workbook(path: Path, sheets: dict[str, list[list[str]]]) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append([cell or None for cell in row])
    book.save(path)
    return path


def told(report: Report) -> Counter[tuple[object, ...]]:
    """What the findings say, without the cells that moving things about must change."""
    return Counter(
        (
            each.kind,
            each.severity,
            each.joint.casefold(),
            each.sides,
            tuple(sorted(name.casefold().strip() for name in each.connections)),
            tuple(sorted(name.casefold() for name in each.stages)),
            len(each.places),
        )
        for each in report.findings
    )


@pytest.fixture
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("lists")


@BOUNDED
@given(LISTS)
def test_rows_read_are_used_or_set_aside(folder, lists):
    report = verify([workbook(folder / "all.xlsx", columns_of(lists))])
    assert not report.crashed
    for account in report.reading.accounts:
        assert account.read == account.used + len(account.aside)
    filled = sum(any(row) for rows in lists.values() for row in rows)
    assert sum(account.read for account in report.reading.accounts) == filled


@BOUNDED
@given(LISTS, st.randoms(use_true_random=False))
def test_the_order_of_rows_columns_and_sheets_changes_no_finding(folder, lists, shuffler):
    sheets = columns_of(lists)
    expected = told(verify([workbook(folder / "plain.xlsx", sheets)]))
    shuffled = {}
    for name in shuffler.sample(list(sheets), len(sheets)):
        headings, *rows = sheets[name]
        order = shuffler.sample(range(len(headings)), len(headings))
        rows = shuffler.sample(rows, len(rows))
        shuffled[f"sheet {name} {shuffler.randint(1, 9)}"] = [
            [row[number] for number in order] for row in [headings, *rows]
        ]
    assert told(verify([workbook(folder / "shuffled.xlsx", shuffled)])) == expected


@BOUNDED
@given(LISTS, st.randoms(use_true_random=False))
def test_lists_in_one_workbook_or_in_files_of_their_own_are_the_same(folder, lists, shuffler):
    sheets = columns_of(lists)
    expected = told(verify([workbook(folder / "one.xlsx", sheets)]))
    paths = []
    for number, rows in enumerate(sheets.values()):
        path = folder / f"{number}.csv"
        with path.open("w", newline="", encoding="utf-8") as stream:
            csv.writer(stream).writerows(rows)
        paths.append(path)
    shuffler.shuffle(paths)
    assert told(verify(paths)) == expected


@BOUNDED
@given(LISTS)
def test_a_sheet_of_notes_changes_nothing(folder, lists):
    sheets = columns_of(lists)
    expected = told(verify([workbook(folder / "plain.xlsx", sheets)]))
    notes = {"Notes": [["Remember"], ["The crane is booked for Tuesday."], ["", "And the trolley"]]}
    report = verify([workbook(folder / "noted.xlsx", notes | sheets)])
    assert told(report) == expected
    assert [each.sheet for each in report.not_used] == ["Notes"]


@BOUNDED
@given(LISTS)
def test_every_cited_cell_exists(folder, lists):
    sheets = columns_of(lists)
    report = verify([workbook(folder / "all.xlsx", sheets)])
    for finding in report.findings:
        assert finding.places
        for place in finding.places:
            rows = sheets[place.sheet]
            assert 1 <= place.row <= len(rows)
            assert 1 <= place.column <= len(rows[0])


def test_two_runs_give_the_same_report(folder):
    from joinmatrix.reports.json_report import to_json

    rows = random.Random(5)
    sheet = [
        [f"H-{rows.randint(1, 9)}", "wing", "L", "line", "", "", "", "", ""] for _ in range(20)
    ]
    path = workbook(folder / "all.xlsx", {"lines": [HEADINGS["lines"], *sheet]})
    assert to_json(verify([path])) == to_json(verify([path]))
