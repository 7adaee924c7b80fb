"""The strict check, its statement, and the recheck."""

import hashlib
import json
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import openpyxl
import pytest

from joinmatrix.answers import sign_off as module
from joinmatrix.answers.sign_off import recheck, sign_off
from joinmatrix.answers.statement import SAFETY, read_statement, statement_object
from joinmatrix.errors import CallError, InputError

FINISHED = Path(__file__).parents[2] / "samples" / "amphibian-finished"
LINES = (
    "connection,joint,side,type,limits,critical\nH-1,fin,both,line,1..2 N·m,yes\nH-2,fin,L,line,,\n"
)
DIFFERENCES = "joint,connection,side,reason,approved by\nfin,H-2,L,left only,ENG-1\n"
RECORD = (
    "when,connection,side,act,by,value,unit\n"
    "2026-03-02,H-1,both,made,A. Berg,1.5,N·m\n"
    "2026-03-02,H-2,L,made,A. Berg,,\n"
    "2026-03-03,H-1,both,inspected,M. Holm,,\n"
    "2026-03-03,H-2,L,inspected,M. Holm,,\n"
)


@pytest.fixture
def lists(tmp_path):
    """A folder with a finished job."""
    folder = tmp_path / "lists"
    folder.mkdir()
    for name, text in (("lines", LINES), ("differences", DIFFERENCES), ("record", RECORD)):
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return folder


def digests(folder):
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


# --- the statement ---


def test_clear_lists_give_a_statement(lists, tmp_path):
    answer = sign_off([lists], by="Q. Inspector", output=tmp_path / "statement.json")
    assert answer.exit_code == 0
    assert answer.refused == ()
    found = json.loads((tmp_path / "statement.json").read_text(encoding="utf-8"))
    assert found["format"] == "joinmatrix-sign-off/1"
    assert found["verdict"] == "clear"
    assert found["by"] == "Q. Inspector"
    assert found["program"].startswith("joinmatrix ")
    assert found["joints"] == [
        {"joint": "fin", "side": "L", "connections": 2, "made": 2, "inspected": 2},
        {"joint": "fin", "side": "R", "connections": 1, "made": 1, "inspected": 1},
    ]
    assert {each["file"]: each["sha256"] for each in found["inputs"]} == {
        f"{lists}/{name}": digest for name, digest in digests(lists).items()
    }
    (agreed,) = found["agreed differences"]
    assert (agreed["connection"], agreed["reason"], agreed["approved by"], agreed["row"]) == (
        "H-2", "left only", "ENG-1", 2,
    )  # fmt: skip
    assert {"kinds": ["left-fitted"], "why": "no temporary list was given"} in found["not run"]


def test_it_says_what_it_does_not_replace(lists):
    answer = sign_off([lists], by="Q")
    assert statement_object(answer.statement)["statement"] == SAFETY
    assert "supports the release by the licensed person and does not replace it" in SAFETY


def test_a_statement_reads_back_as_it_was_written(lists, tmp_path):
    answer = sign_off([lists], by="Q", output=tmp_path / "statement.json")
    assert read_statement(tmp_path / "statement.json") == answer.statement


def test_the_finished_sample_signs_off(tmp_path):
    answer = sign_off([FINISHED], by="Q", output=tmp_path / "statement.json")
    assert answer.refused == ()
    assert recheck(tmp_path / "statement.json", [FINISHED]).holds
    assert len(answer.statement.agreed) >= 1


# --- refusals ---


@pytest.mark.parametrize(
    ("file", "text", "refused"),
    [
        pytest.param("record.csv", RECORD.replace("2026-03-03,H-2,L,inspected,M. Holm,,\n", ""),
                     "1 finding holds", id="open-work-holds"),
        pytest.param("record.csv", RECORD.replace("1.5", "3"), "1 finding holds", id="limits"),
        pytest.param("record.csv", RECORD.replace("M. Holm", "A. Berg"), "1 finding holds",
                     id="self-inspected"),
        pytest.param("record.csv", RECORD.replace("A. Berg", ""), "1 finding holds", id="unproven"),
        pytest.param("differences.csv", "joint,connection,side,reason\nfin,H-9,L,x\n", "holds",
                     id="not-agreed"),
        pytest.param("record.csv", "when,connection,side,act\n", "this is a plan", id="plan"),
    ],
)  # fmt: skip
def test_what_is_not_clear_is_refused(lists, tmp_path, file, text, refused):
    (lists / file).write_text(text, encoding="utf-8")
    answer = sign_off([lists], by="Q", output=tmp_path / "statement.json")
    assert answer.exit_code == 1
    assert answer.statement is None
    assert any(refused in each for each in answer.refused), answer.refused
    assert not (tmp_path / "statement.json").exists()


def test_an_input_that_changes_while_it_is_read_is_refused(lists, tmp_path, monkeypatch):
    def verify_and_meddle(paths, **options):
        report = real(paths, **options)
        with (lists / "lines.csv").open("a", encoding="utf-8") as stream:
            stream.write("\n")
        return report

    real = module.verify
    monkeypatch.setattr(module, "verify", verify_and_meddle)
    answer = sign_off([lists], by="Q", output=tmp_path / "statement.json")
    assert answer.exit_code == 1
    (why,) = answer.refused
    assert "lines.csv changed while it was read" in why
    assert not (tmp_path / "statement.json").exists()


def test_a_file_that_comes_while_the_others_are_read_is_refused(lists, monkeypatch):
    def verify_and_add(paths, **options):
        report = real(paths, **options)
        shutil.copy(lists / "lines.csv", lists / "more.csv")
        return report

    real = module.verify
    monkeypatch.setattr(module, "verify", verify_and_add)
    assert "more.csv" in sign_off([lists], by="Q").refused[0]


@pytest.mark.parametrize("name", ["lines.csv", "../lists/record.csv", "link.json"])
def test_an_output_that_is_an_input_is_refused(lists, name):
    (lists / "link.json").symlink_to(lists / "differences.csv")
    before = digests(lists)
    with pytest.raises(CallError, match="one of the lists"):
        sign_off([lists], by="Q", output=lists / name)
    assert digests(lists) == before


def test_an_output_that_would_be_read_as_a_list_is_refused(lists):
    with pytest.raises(CallError, match="would be read as a list"):
        sign_off([lists], by="Q", output=lists / "statement.csv")


def test_somebody_must_sign(lists):
    with pytest.raises(CallError, match="who made it"):
        sign_off([lists], by="  ", output=lists.parent / "statement.json")


# --- recheck ---


@pytest.fixture
def statement(lists, tmp_path):
    path = tmp_path / "statement.json"
    assert sign_off([lists], by="Q", output=path).exit_code == 0
    return path


def test_the_same_lists_hold(lists, statement):
    again = recheck(statement, [lists])
    assert again.holds
    assert again.exit_code == 0


def test_a_statement_rechecks_elsewhere(lists, statement, tmp_path, monkeypatch):
    other = tmp_path / "another machine" / "jobs"
    shutil.copytree(lists, other)
    (other / "lines.csv").rename(other / "Z-lines.csv")
    shutil.rmtree(lists)
    monkeypatch.chdir(other.parent)
    assert recheck(statement, ["jobs"]).holds
    assert recheck(statement, [*other.glob("*.csv")]).holds


@pytest.mark.parametrize(
    ("file", "row", "old", "new"),
    [
        ("lines.csv", 2, "1..2 N", "1..3 N"),
        ("record.csv", 2, "1.5", "1.6"),
        ("record.csv", 5, "M. Holm", "M. Halm"),
        ("differences.csv", 2, "left only", "left onlv"),
    ],
)
def test_one_byte_is_found_and_its_row_named(lists, statement, file, row, old, new):
    lines = (lists / file).read_text(encoding="utf-8").splitlines(keepends=True)
    lines[row - 1] = lines[row - 1].replace(old, new, 1)
    (lists / file).write_text("".join(lines), encoding="utf-8")
    again = recheck(statement, [lists])
    assert again.exit_code == 1
    (change,) = again.changes
    assert (Path(change.file).name, change.row) == (file, row)
    assert str(change).endswith(f"{file}: row {row} is not as it was")


def test_one_cell_of_a_workbook_is_found_with_its_sheet(tmp_path):
    folder = tmp_path / "finished"
    shutil.copytree(FINISHED, folder)
    statement = tmp_path / "statement.json"
    sign_off([folder], by="Q", output=statement)
    path = folder / "build-record.xlsx"
    book = openpyxl.load_workbook(path)
    sheet = book.worksheets[0]
    row = sheet.max_row
    cell = next(cell for cell in sheet[row] if isinstance(cell.value, str))
    cell.value += "x"
    book.save(path)
    again = recheck(statement, [folder])
    assert [(Path(each.file).name, each.sheet, each.row) for each in again.changes] == [
        ("build-record.xlsx", sheet.title, row)
    ]


def test_any_byte_of_any_input_is_found_and_named(tmp_path):
    folder = tmp_path / "finished"
    shutil.copytree(FINISHED, folder)
    statement = tmp_path / "statement.json"
    sign_off([folder], by="Q", output=statement)
    for path in sorted(folder.iterdir()):
        content = path.read_bytes()
        for at in (len(content) // 3, len(content) - 1):
            path.write_bytes(content[:at] + bytes([content[at] ^ 1]) + content[at + 1 :])
            try:
                told = [str(each) for each in recheck(statement, [folder]).changes]
            except InputError as damaged:  # too broken to read is named as well
                told = [str(damaged)]
            assert [each for each in told if path.name in each], f"{path.name} byte {at}"
        path.write_bytes(content)
    assert recheck(statement, [folder]).holds


def test_the_answer_is_told_where_it_differs(lists, statement):
    text = (lists / "record.csv").read_text(encoding="utf-8")
    (lists / "record.csv").write_text(text.rsplit("2026-03-03", 1)[0], encoding="utf-8")
    again = recheck(statement, [lists])
    assert [each.what for each in again.changes] == ["what was row 5 is gone"]
    assert again.answer == (
        "the strict check is no longer clear: 1 hold",
        "fin L: no longer 2 connections, 2 made, 2 inspected",
        "fin L: now 2 connections, 2 made, 1 inspected",
    )


def test_another_version_of_the_program_is_told(lists, statement, monkeypatch):
    assert recheck(statement, [lists]).program == ""
    monkeypatch.setattr(module, "program_version", lambda: "joinmatrix 99")
    again = recheck(statement, [lists])
    assert again.program.startswith("joinmatrix ")
    assert again.holds


@pytest.mark.parametrize(
    ("meddle", "said"),
    [
        pytest.param(lambda text: text.replace('"by": "Q"', '"by": "X"'), "its seal", id="by"),
        pytest.param(lambda text: text.replace('"made": 2', '"made": 3'), "its seal", id="counts"),
        pytest.param(lambda text: text[:-40], "no sign-off statement", id="cut-off"),
        pytest.param(lambda _: "[]", "no sign-off statement", id="another-json"),
        pytest.param(lambda text: text.replace("off/1", "off/2"), "has the format", id="version"),
        pytest.param(lambda _: "", "no sign-off statement", id="empty"),
    ],
)
def test_a_statement_that_was_altered_is_refused(lists, statement, meddle, said):
    statement.write_text(meddle(statement.read_text(encoding="utf-8")), encoding="utf-8")
    with pytest.raises(InputError, match=said):
        recheck(statement, [lists])


def test_a_statement_that_is_not_there(lists, tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        recheck(tmp_path / "none.json", [lists])


# --- stopped from outside ---


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM], ids=["kill", "term"])
def test_stopped_at_any_moment(lists, tmp_path, how):
    output = tmp_path / "statement.json"
    code = (
        "import sys; from joinmatrix.answers.sign_off import sign_off\n"
        "sign_off([sys.argv[1]], by='Q', output=sys.argv[2])"
    )
    before = digests(lists)
    started = time.monotonic()
    subprocess.run([sys.executable, "-c", code, lists, output], check=True)
    whole = time.monotonic() - started
    read_statement(output)
    output.unlink()
    for step in range(8):
        process = subprocess.Popen([sys.executable, "-c", code, lists, output])
        time.sleep(whole * (0.3 + 0.1 * step))
        process.send_signal(how)
        process.wait()
        assert digests(lists) == before
        if output.exists():
            read_statement(output)
            output.unlink()
