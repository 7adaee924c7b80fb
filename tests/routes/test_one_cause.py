"""One cause, one finding: a single fault planted in a clean assembly gives one hold finding."""

import random

import pytest

from joinmatrix.findings import Severity
from tests.builders import report_of, table

JOINTS = ("inner", "outer", "tip")
SERVICES = ("brake pressure", "brake return", "fuel feed", "nav light supply", "elevator up")
CONNECTIONS = (
    "connection", "joint", "side", "type", "service", "from", "to", "from size", "to size",
    "from end", "to end", "from key", "to key",
)  # fmt: skip


class Clean:
    """Five services through three joints on both sides, all made and inspected, as cells."""

    def __init__(self) -> None:
        self.connections = [
            [
                f"C{joint}{line}", JOINTS[joint], side, f"line {line}", service, f"a{joint}.{line}",
                f"b{joint}.{line}", "-6", "3/8", "flare 37", "37 flare", "N", "normal",
            ]
            for joint in range(3)
            for line, service in enumerate(SERVICES)
            for side in "LR"
        ]  # fmt: skip
        self.runs = [
            [f"b{joint}.{line}", f"a{joint + 1}.{line}", side]
            for joint in range(2)
            for line in range(len(SERVICES))
            for side in "LR"
        ]
        self.runs += [[*run, side] for run in (("b2.0", "lamp"), ("pump", "a0.0")) for side in "LR"]
        self.record = [
            [row[0], row[2], act, when, by, row[6] if act == "made" else ""]
            for row in self.connections
            for act, when, by in (("made", "2026-03-04", "AB"), ("inspected", "2026-03-05", "CD"))
        ]

    def holds(self) -> list[str]:
        """The kinds of the hold findings of all checks."""
        report = report_of(
            _table("connections", CONNECTIONS, self.connections),
            _table("runs", ("from", "to", "side"), self.runs),
            _table("record", ("connection", "side", "act", "when", "by", "mated to"), self.record),
        )
        assert not report.crashed
        return [each.kind.value for each in report.findings if each.severity is Severity.HOLD]

    def row(self, name: str, side: str = "L") -> list[str]:
        return next(row for row in self.connections if row[0] == name and row[2] == side)

    def made(self, name: str, side: str = "L") -> list[str]:
        return next(row for row in self.record if row[:3] == [name, side, "made"])


def _table(kind, headings, rows):
    return table(kind, "\n".join("|".join(row) for row in [list(headings), *rows]))


def test_clean():
    assert Clean().holds() == []


def cell(column: int, text: str):
    def plant(case: Clean) -> None:
        case.row("C11")[column] = text

    return plant


def mated(**ports: str):
    def plant(case: Clean) -> None:
        for name, port in ports.items():
            case.made(name)[5] = port

    return plant


def other_service(case: Clean) -> None:
    case.row("C11")[4] = "brake retrun"


def drop_connection(case: Clean) -> None:
    case.connections.remove(case.row("C11"))
    case.record = [row for row in case.record if row[:2] != ["C11", "L"]]


def drop_run(case: Clean) -> None:
    case.runs.remove(["b0.1", "a1.1", "L"])


def wrong_run(case: Clean) -> None:
    case.runs[case.runs.index(["b0.1", "a1.1", "L"])] = ["b0.1", "a1.2", "L"]


def dangling_run(case: Clean) -> None:
    case.runs[case.runs.index(["b0.1", "a1.1", "L"])] = ["b0.1", "nowhere", "L"]


def crossed_runs(case: Clean) -> None:
    case.runs[case.runs.index(["b0.1", "a1.1", "L"])] = ["b0.1", "a1.2", "L"]
    case.runs[case.runs.index(["b0.2", "a1.2", "L"])] = ["b0.2", "a1.1", "L"]


def further_run(case: Clean) -> None:
    case.runs.append(["b0.1", "a1.2", "L"])


def other_to(port: str):
    def plant(case: Clean) -> None:
        case.row("C11")[6] = port
        case.made("C11")[5] = port

    return plant


@pytest.mark.parametrize(
    ("plant", "kind"),
    [
        pytest.param(cell(8, "-8"), "mismatched", id="size"),
        pytest.param(cell(10, "flare 45"), "mismatched", id="end"),
        pytest.param(cell(12, "A"), "mismatched", id="key"),
        pytest.param(mated(C11="b1.2", C12="b1.1"), "crossed", id="swap"),
        pytest.param(mated(C11="b1.2", C12="b1.3", C13="b1.1"), "crossed", id="swap-of-three"),
        pytest.param(mated(C11="b2.2", C22="b1.1"), "crossed", id="swap-across-joints"),
        pytest.param(mated(C11="b1.1 R"), "duplicate", id="mated-to-the-other-side"),
        pytest.param(mated(C11="b1.2"), "duplicate", id="port-mated-to-two"),
        pytest.param(mated(C11="lamp"), "joined-routes", id="mated-to-another-route"),
        pytest.param(mated(C00="pump"), "broken-route", id="mated-to-its-own-half"),
        pytest.param(mated(C20="lamp"), "crossed", id="mated-beyond-its-port"),
        pytest.param(mated(C11="b1,1"), "unreadable", id="mated-to-an-unknown-port"),
        pytest.param(mated(C11="a1.1"), "mismatched", id="mated-to-itself"),
        pytest.param(other_service, "joined-routes", id="service-written-otherwise"),
        pytest.param(drop_connection, "asymmetric", id="connection-missing-on-one-side"),
        pytest.param(other_to("b9"), "broken-route", id="port-listed-otherwise"),
        pytest.param(drop_run, "broken-route", id="run-missing"),
        pytest.param(dangling_run, "broken-route", id="run-to-nowhere"),
        pytest.param(wrong_run, "joined-routes", id="wrong-run"),
        pytest.param(crossed_runs, "joined-routes", id="crossed-runs"),
        pytest.param(further_run, "joined-routes", id="run-too-many"),
        pytest.param(other_to("b1.2"), "duplicate", id="port-listed-twice"),
        pytest.param(other_to("a1.1"), "mismatched", id="port-listed-as-its-own-mate"),
        pytest.param(other_to(""), "one-ended", id="port-not-listed"),
    ],
)
def test_single_fault(plant, kind):
    case = Clean()
    plant(case)
    assert case.holds() == [kind]


@pytest.mark.parametrize("seed", range(20))
def test_single_random_mate(seed):
    """Whatever port one connection is found at, it is one hold finding."""
    pick = random.Random(seed)
    case = Clean()
    entry = pick.choice([row for row in case.record if row[2] == "made"])
    ports = [f"{half}{joint}.{line}" for half in "ab" for joint in range(3) for line in range(5)]
    entry[5] = pick.choice([port for port in ports if port != entry[5]])
    assert len(case.holds()) == 1
