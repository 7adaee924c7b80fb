"""Every check is in the registry, documented, tested and in the README."""

import importlib
import pkgutil
from pathlib import Path

import pytest

import joinmatrix.checks
from joinmatrix.checks.registry import ALL, documentation
from joinmatrix.findings import Kind

ROOT = Path(__file__).parent.parent
MODULES = sorted(
    module.name
    for module in pkgutil.iter_modules(joinmatrix.checks.__path__)
    if module.name not in {"check", "registry"}
)


@pytest.mark.parametrize("name", MODULES)
def test_every_check_file_is_in_the_registry(name):
    assert importlib.import_module(f"joinmatrix.checks.{name}").CHECK in ALL


@pytest.mark.parametrize("name", MODULES)
def test_a_check_file_is_named_for_its_kind(name):
    check = importlib.import_module(f"joinmatrix.checks.{name}").CHECK
    assert check.kind.replace("-", "_") == name


def test_every_kind_has_one_check():
    assert sorted(check.kind for check in ALL) == sorted(Kind)


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_is_explained(kind):
    parts = documentation(kind).split("\n\n")
    assert parts[0].endswith(".")
    assert len(parts) >= 5
    for start in ("Example:", "What clears it:", "What it cannot see:"):
        assert any(part.startswith(start) for part in parts), start


@pytest.mark.parametrize("name", MODULES)
def test_every_check_has_a_test_file(name):
    assert (ROOT / "tests" / "checks" / f"test_{name}.py").is_file()


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_has_a_row_in_the_readme(kind):
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"| `{kind}` |" in readme
