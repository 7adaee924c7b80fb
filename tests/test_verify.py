"""How checks are run, whatever they look for."""

import pytest

from joinmatrix.checks.check import Check
from joinmatrix.errors import InputError
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.lists.table import ListKind
from joinmatrix.place import Place
from joinmatrix.verify import report_on, verify
from tests.builders import reading_of, table

CONNECTIONS = table("connections", "connection|joint|side|type\nH-1|fin|both|line\nH-2|tip|C|line")
MADE = table("record", "when|connection|side|act\n2031-03-04|H-1|L|made")


def says(severity: str, joint: str = "fin", sides: tuple[str, ...] = ("L",)):
    """A toy check that always finds one thing."""

    def run(assembly):
        yield Finding(
            Kind.UNMADE, Severity(severity), "m", "c", (Place("a.xlsx"),), joint=joint, sides=sides
        )

    return Check(Kind.UNMADE, run)


def never(assembly):
    yield from ()


def stumbles(assembly):
    yield from ()
    raise ZeroDivisionError("by zero")


@pytest.mark.parametrize(
    ("checks", "verdict", "exit_code"),
    [
        pytest.param([], "clear", 0, id="nothing-found"),
        pytest.param([says("note")], "clear", 0, id="note"),
        pytest.param([says("open")], "open", 0, id="open"),
        pytest.param([says("hold"), says("open")], "hold", 1, id="hold"),
    ],
)
def test_verdict_and_exit_code(checks, verdict, exit_code):
    report = report_on(reading_of(CONNECTIONS), checks=checks)
    assert (report.verdict, report.exit_code) == (verdict, exit_code)


def test_a_check_that_stumbles_spares_the_others_and_the_run_is_not_clean():
    report = report_on(
        reading_of(CONNECTIONS), checks=[Check(Kind.CROSSED, stumbles), says("note")]
    )
    assert len(report.findings) == 1
    assert report.verdict == "hold"
    assert "by zero" in report.crashed[0].why


def test_a_check_whose_list_is_not_given_does_not_run_and_the_report_says_so():
    checks = [Check(Kind.NOT_AUTHORISED, stumbles, needs=ListKind.PEOPLE)]
    report = report_on(reading_of(CONNECTIONS), checks=checks)
    assert not report.crashed
    assert report.not_run[0].kinds == (Kind.NOT_AUTHORISED,)
    assert "people" in report.not_run[0].why


def test_a_check_of_what_was_done_has_no_place_in_a_bare_plan():
    checks = [Check(Kind.UNMADE, stumbles, acts=True)]
    report = report_on(reading_of(CONNECTIONS), checks=checks)
    assert report.assembly.plan_only
    assert report.not_run[0].kinds == (Kind.UNMADE,)


def test_sign_off_weighs_open_work_as_a_hold():
    report = report_on(reading_of(CONNECTIONS), checks=[says("open")], for_sign_off=True)
    assert report.verdict == "hold"


def test_a_joint_side_has_the_verdict_of_what_concerns_it():
    report = report_on(
        reading_of(CONNECTIONS, MADE), checks=[says("hold"), says("open", "Tip", ())]
    )
    assert [(each.joint, each.side, each.verdict) for each in report.joints] == [
        ("fin", "L", "hold"),
        ("fin", "R", "clear"),
        ("tip", "C", "open"),
    ]
    assert [(each.connections, each.made) for each in report.joints] == [(1, 1), (1, 0), (1, 0)]


def test_rows_that_merging_sets_aside_leave_the_account_adding_up():
    lines = table("connections", "connection|joint|side|type\nH-1|fin|L|line\nH-2|fin|Q|line")
    (account,) = report_on(reading_of(lines), checks=[]).reading.accounts
    assert (account.read, account.used) == (2, 1)
    assert account.aside[0][0] == 3


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        pytest.param("empty.csv", "", "empty", id="empty-file"),
        pytest.param("notes.csv", "buy rope\nand tape\n", "no connections list", id="no-list"),
        pytest.param(
            "lines.csv", "connection,joint,side,type\n", "no row", id="headings-and-no-rows"
        ),
        pytest.param(
            "lines.csv", "connection,side,type\nH-1,L,line\n", "joint", id="no-joint-column"
        ),
    ],
)
def test_nothing_to_check_is_not_a_pass(tmp_path, name, text, says):
    (tmp_path / name).write_text(text)
    with pytest.raises(InputError, match=says):
        verify([tmp_path / name])


def test_a_folder_without_files_is_named(tmp_path):
    with pytest.raises(InputError, match=r"no \.xlsx or \.csv file"):
        verify([tmp_path])


def test_a_file_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match=r"gone\.xlsx"):
        verify([tmp_path / "gone.xlsx"])
