"""No layer imports one above it."""

import subprocess
import sys
from pathlib import Path


def test_layers():
    linter = Path(sys.executable).parent / "lint-imports"
    ended = subprocess.run(
        [linter], cwd=Path(__file__).parent.parent, capture_output=True, text=True, check=False
    )
    assert ended.returncode == 0, ended.stdout
