"""Options and fixtures that all tests share."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

# The same examples in every run: a change fails on its own faults, not on the luck of the draw.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")

GOLDEN = Path(__file__).parent / "golden"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="Rewrite the golden files from what the program gives now; then read the diff.",
    )
    parser.addoption(
        "--desktop",
        action="store_true",
        help="Run the tests marked desktop too: they need Chromium, LibreOffice, pdftotext and, "
        "as JOINMATRIX_AXE, the path of axe.min.js.",
    )


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out, rather than skip, what needs programs that a bare machine does not have."""
    if config.getoption("--desktop"):
        return
    left_out = [item for item in items if item.get_closest_marker("desktop")]
    config.hook.pytest_deselected(items=left_out)
    items[:] = [item for item in items if not item.get_closest_marker("desktop")]


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compare a text with the golden file of a name, or rewrite that file."""

    def compare(name: str, text: str) -> None:
        path = GOLDEN / name
        if request.config.getoption("--update-golden"):
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
        assert path.exists(), f"no golden file {name}; make it with --update-golden"
        assert text == path.read_bytes().decode("utf-8")

    return compare
