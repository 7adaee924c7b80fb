"""The same person made and inspected."""

import pytest

from joinmatrix.checks.self_inspected import self_inspected
from joinmatrix.findings import Kind, Severity
from tests.builders import assembly_of, cells, table

RECORD = "when|connection|side|act|by\n"


def found(maker, inspector, *, critical="yes", kind="line", people=""):
    lists = [
        table(
            "connections",
            f"connection|joint|side|type|critical\nH-1|fin|L|{kind}|{critical}",
        ),
        table(
            "record",
            f"{RECORD}2026-03-02|H-1|L|made|{maker}\n2026-03-03|H-1|L|inspected|{inspector}",
        ),
    ]
    if people:
        lists.append(table("people", f"person|may\n{people}"))
    return list(self_inspected(assembly_of(*lists)))


@pytest.mark.parametrize(
    ("maker", "inspector", "options", "severity"),
    [
        pytest.param("M. Holm", "A. Berg", {}, None, id="two-persons"),
        pytest.param("M. Holm", "M. Holm", {"critical": ""}, None, id="not-critical"),
        pytest.param("M. Holm", "M. Holm", {}, Severity.HOLD, id="one-person"),
        pytest.param("M. Holm", " m.  HOLM ", {}, Severity.HOLD, id="case-and-spaces"),
        pytest.param(
            "x", "x", {"critical": "", "kind": "control rod"}, Severity.HOLD, id="flight-control"
        ),
        pytest.param(
            "x", "x", {"critical": "no", "kind": "control rod"}, None, id="flight-control-says-no"
        ),
        pytest.param("M. Holm", "M. Holm / A. Berg", {}, None, id="another-looked-as-well"),
        pytest.param("M. Holm / A. Berg", "A. Berg", {}, Severity.HOLD, id="one-of-the-makers"),
        pytest.param("M. Holm", "Mia Holm", {}, Severity.NOTE, id="initial-and-surname"),
        pytest.param("Holm, Mia", "Mia Holm", {}, Severity.NOTE, id="surname-first"),
        pytest.param("MH", "Mia Holm", {}, Severity.NOTE, id="initials"),
        pytest.param("Mia Holm", "Max Holm", {}, None, id="brothers"),
        pytest.param(
            "M. Holm", "Mia Holm", {"people": "M. Holm|make\nMia Holm|inspect"}, None,
            id="both-are-listed",
        ),
        pytest.param(
            "M. Holm", "Mia Holm", {"people": "Mia Holm|inspect"}, Severity.NOTE, id="one-is-listed"
        ),
    ],
)  # fmt: skip
def test_self_inspected(maker, inspector, options, severity):
    findings = found(maker, inspector, **options)
    assert [each.severity for each in findings] == ([severity] if severity else [])
    for each in findings:
        assert each.kind is Kind.SELF_INSPECTED
        assert sorted(cells(each)) == ["record.xlsx!E2", "record.xlsx!E3"]
        assert (each.joint, each.sides, each.connections) == ("fin", ("L",), ("H-1",))


@pytest.mark.parametrize(
    ("maker", "inspector", "said", "blank"),
    [
        ("", "A. Berg", "who made it", ["record.xlsx!E2"]),
        ("M. Holm", "", "who inspected it", ["record.xlsx!E3"]),
        ("", "", "who made and who inspected it", ["record.xlsx!E3", "record.xlsx!E2"]),
    ],
)
def test_a_missing_name_is_not_shown_to_be_another(maker, inspector, said, blank):
    (finding,) = found(maker, inspector)
    assert (finding.kind, finding.severity) == (Kind.UNPROVEN, Severity.NOTE)
    assert said in finding.message
    assert cells(finding) == [*blank, "record.xlsx!D3", "record.xlsx!D2"]


def test_initials_in_ticks():
    text = (
        "connection|joint|side|type|critical|made|inspected\n"
        "H-1|fin|L|line|yes|JR|JR\nH-2|fin|L|line|yes|JR|KB"
    )
    (finding,) = self_inspected(assembly_of(table("connections", text)))
    assert finding.connections == ("H-1",)
    assert sorted(cells(finding)) == ["connections.xlsx!F2", "connections.xlsx!G2"]


def test_only_the_acts_that_count_are_compared():
    record = (
        f"{RECORD}2026-03-01|H-1|L|made|x\n2026-03-02|H-1|L|opened|x\n2026-03-03|H-1|L|made|y\n"
        "2026-03-04|H-1|L|inspected|x"
    )
    lists = table("connections", "connection|joint|side|type|critical\nH-1|fin|L|line|yes")
    assert list(self_inspected(assembly_of(lists, table("record", record)))) == []


def test_one_question_for_each_pair_of_names_and_joint():
    lists = "connection|joint|side|type|critical\n" + "\n".join(
        f"H-{number}|fin|both|line|yes" for number in range(5)
    )
    rows = "\n".join(
        f"2026-03-0{day}|H-{number}|both|{act}|{by}"
        for number in range(5)
        for day, act, by in ((2, "made", "M. Holm"), (3, "inspected", "Mia Holm"))
    )
    (finding,) = self_inspected(
        assembly_of(table("connections", lists), table("record", RECORD + rows))
    )
    assert len(finding.connections) == 5
    assert finding.sides == ("L", "R")
    assert finding.items == ("M. Holm", "Mia Holm")
