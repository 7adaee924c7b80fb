"""What the program finds in the samples is what their README says, to the cell."""

import re
from pathlib import Path

import pytest

from joinmatrix.findings import Severity
from joinmatrix.report import Report
from joinmatrix.verify import verify

SAMPLES = Path(__file__).parent.parent / "samples"
SECTIONS = re.split(r"^## ", (SAMPLES / "README.md").read_text(encoding="utf-8"), flags=re.M)
_WHERE = re.compile(r"(?P<file>\S+\.(?:xlsx|csv))(?:, (?P<sheet>.+?))?: (?P<cells>[A-Z]+\d.*)")

Said = tuple[str, str, frozenset[str], frozenset[str], frozenset[tuple[str, str, str]]]


def section(sample: str) -> str:
    return next(each for each in SECTIONS if each.startswith(f"{sample}\n"))


def said(sample: str) -> set[Said]:
    """The findings of the tables in a sample's section."""
    found = set()
    for line in section(sample).splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split(" | ")]
        if len(cells) == 7 and cells[1] in {"hold", "note"}:
            kind, severity, _, names, sides, _, where = cells
            found.add((kind, severity, names_of(names), names_of(sides), places_of(where)))
    return found


def names_of(text: str) -> frozenset[str]:
    return frozenset() if text == "-" else frozenset(text.split(", "))


def places_of(text: str) -> frozenset[tuple[str, str, str]]:
    places = set()
    for part in text.split("; "):
        where = _WHERE.fullmatch(part)
        assert where, part
        for cell in where["cells"].split(", "):
            places.add((where["file"], where["sheet"] or "", cell))
    return frozenset(places)


def found(report: Report, severity: str) -> set[Said]:
    """The findings of a report, stages standing in for connections as in the tables."""
    return {
        (
            each.kind,
            each.severity,
            frozenset(each.connections or each.stages or each.items),
            frozenset(each.sides),
            frozenset((Path(place.file).name, place.sheet, place.cell) for place in each.places),
        )
        for each in report.findings
        if each.severity == severity
    }


@pytest.fixture(scope="module")
def reports():
    return {
        folder.name: verify([folder]) for folder in sorted(SAMPLES.iterdir()) if folder.is_dir()
    }


MID_BUILD = ("amphibian", "turbine-rotor", "plant-modules")


@pytest.mark.parametrize("sample", MID_BUILD)
def test_every_hold_is_named_and_nothing_else_holds(reports, sample):
    assert found(reports[sample], Severity.HOLD) == {
        each for each in said(sample) if each[1] == "hold"
    }


@pytest.mark.parametrize("sample", MID_BUILD)
def test_every_note_that_the_readme_names_is_found(reports, sample):
    notes = found(reports[sample], Severity.NOTE)
    named = [each for each in said(sample) if each[1] == "note"]
    for note in named:
        assert any(note[:4] == each[:4] and note[4] <= each[4] for each in notes), note
    beside = {each[0] for each in notes} - {each[0] for each in named}
    assert beside <= {"lookalike"}


def test_the_work_still_to_do_in_the_amphibian(reports):
    lines = re.findall(r"^- unmade, [^:]+: (.+)$", section("amphibian"), flags=re.M)
    named = {tuple(each.split(" (")) for line in lines for each in line.split(", ")}
    assert {
        (each.connections[0], f"{each.side})")
        for each in reports["amphibian"].findings
        if each.severity is Severity.OPEN
    } == named


def test_the_finished_amphibian_is_clear(reports):
    report = reports["amphibian-finished"]
    assert report.verdict == "clear"
    assert report.exit_code == 0
    assert not report.crashed


def test_the_finished_amphibian_is_clear_by_the_strict_rules_of_sign_off():
    assert verify([SAMPLES / "amphibian-finished"], for_sign_off=True).verdict == "clear"


@pytest.mark.parametrize("sample", [*MID_BUILD, "amphibian-finished"])
def test_every_row_of_a_sample_is_accounted_for(reports, sample):
    for account in reports[sample].reading.accounts:
        assert account.read == account.used + len(account.aside)
