"""Commands as they are typed."""

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from joinmatrix.cli.app import app

SAMPLES = Path(__file__).parents[2] / "samples"
MID_BUILD = str(SAMPLES / "amphibian")
FINISHED = str(SAMPLES / "amphibian-finished")
ROTOR = str(SAMPLES / "turbine-rotor")
MODULES = str(SAMPLES / "plant-modules")  # a plan


def run(*words: str) -> Result:
    """What a command writes and ends with."""
    return CliRunner().invoke(app, list(words))


def refusal(capsys, monkeypatch, *words: str) -> str:
    """The one line that a call which cannot be answered ends in; checks that it exits 2."""
    from joinmatrix.cli.app import main

    monkeypatch.setattr("sys.argv", ["joinmatrix", *words])
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1
    return said.err


def write_lists(folder: Path, **lists: str) -> str:
    """Lists as .csv files in a folder; the folder as it is typed."""
    folder.mkdir(exist_ok=True)
    for name, text in lists.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return str(folder)
