"""What the README shows is what the program prints, and what it promises is there."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
# A block that begins with a command shows its output at 80 columns, indented like the command.
BLOCK = re.compile(
    r"^    \$ joinmatrix (?P<words>.+)\n(?P<output>(?:(?:    .*)?\n)*?)(?=^\S)", re.MULTILINE
)


def printed(words: str) -> str:
    """The output of a command as it goes into a pipe of 80 columns, indented for the README."""
    ended = subprocess.run(
        f'"{sys.executable}" -m joinmatrix {words}',
        shell=True,
        cwd=ROOT,
        env={**os.environ, "COLUMNS": "80", "PYTHONUTF8": "1", "NO_COLOR": "1"},
        capture_output=True,
        check=False,
    )
    lines = ended.stdout.decode("utf-8").splitlines()
    return "".join(f"    {line}".rstrip() + "\n" for line in lines)


def test_every_shown_output_is_true(request):
    text = README.read_text(encoding="utf-8")
    blocks = list(BLOCK.finditer(text))
    assert blocks
    if request.config.getoption("--update-golden"):
        for block in reversed(blocks):
            output = printed(block["words"]) + "\n"
            text = text[: block.start("output")] + output + text[block.end("output") :]
        README.write_text(text, encoding="utf-8")
        return
    for block in blocks:
        assert block["output"].rstrip("\n") == printed(block["words"]).rstrip("\n")


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(".venv/bin/joinmatrix check samples/amphibian", id="check-the-sample"),
        pytest.param(".venv/bin/pytest", id="pass-the-tests"),
    ],
)
def test_the_two_commands_set_everything_up(words):
    text = README.read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("    python3 -m venv")
                and line.endswith(words))  # fmt: skip
    assert "pip install" in line


def test_every_command_is_described():
    from joinmatrix.cli.app import app

    text = README.read_text(encoding="utf-8")
    for command in app.registered_commands:
        assert f"joinmatrix {command.name}" in text
