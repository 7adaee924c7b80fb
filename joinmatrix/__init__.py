"""Verify that every line, cable, rod and connector across a joint is made, once, in order.

    import joinmatrix

    report = joinmatrix.verify(["lists/"])
    report.verdict
    report.findings_frame()
    joinmatrix.trace(report, "W12 L").open_at

`verify` makes the report. `gate`, `next_acts`, `windows`, `sequence`, `stage_order`, `spare_rules`,
`sides`, `trace`, `changes`, `sign_off` and `recheck` answer one question each, from paths, a report
or an assembly (the last two from paths only). What is wrong with the input or the call is
raised as `InputError` or `CallError`.
"""

import sys
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from joinmatrix.assembly.model import Assembly as Assembly
    from joinmatrix.errors import CallError as CallError
    from joinmatrix.errors import InputError as InputError
    from joinmatrix.errors import JoinMatrixError as JoinMatrixError
    from joinmatrix.findings import Finding as Finding
    from joinmatrix.findings import Kind as Kind
    from joinmatrix.findings import Severity as Severity
    from joinmatrix.findings import Verdict as Verdict
    from joinmatrix.library import changes as changes
    from joinmatrix.library import gate as gate
    from joinmatrix.library import merge as merge
    from joinmatrix.library import next_acts as next_acts
    from joinmatrix.library import recheck as recheck
    from joinmatrix.library import sequence as sequence
    from joinmatrix.library import sides as sides
    from joinmatrix.library import sign_off as sign_off
    from joinmatrix.library import spare_rules as spare_rules
    from joinmatrix.library import stage_order as stage_order
    from joinmatrix.library import trace as trace
    from joinmatrix.library import verify as verify
    from joinmatrix.library import windows as windows
    from joinmatrix.place import Place as Place
    from joinmatrix.report import Report as Report

# Each name is fetched when it is first asked for, so that a short command stays quick.
_FOUND_IN = {
    "Assembly": "assembly.model",
    "CallError": "errors",
    "Finding": "findings",
    "InputError": "errors",
    "JoinMatrixError": "errors",
    "Kind": "findings",
    "Place": "place",
    "Report": "report",
    "Severity": "findings",
    "Verdict": "findings",
    "changes": "library",
    "gate": "library",
    "merge": "library",
    "next_acts": "library",
    "recheck": "library",
    "sequence": "library",
    "sides": "library",
    "sign_off": "library",
    "spare_rules": "library",
    "stage_order": "library",
    "trace": "library",
    "verify": "library",
    "windows": "library",
}
__all__ = sorted(_FOUND_IN)


def __getattr__(name: str) -> Any:
    """A name of the library, from the module that has it."""
    if name not in _FOUND_IN:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(f"{__name__}.{_FOUND_IN[name]}"), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    """The names of the library, fetched or not."""
    return sorted({*globals(), *_FOUND_IN})


class _Package(ModuleType):
    """A package in which `verify` is the function, although a module of that name is in it.

    Importing the module would put it in the place of the function.
    """

    def __setattr__(self, name: str, value: object) -> None:
        if not (isinstance(value, ModuleType) and name in _FOUND_IN):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Package
