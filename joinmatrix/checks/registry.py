"""The checks, in the order in which help lists them. A new check is one file and one line here."""

import inspect
import sys

from joinmatrix.checks import (
    asymmetric,
    broken_route,
    conflict,
    contradiction,
    crossed,
    duplicate,
    joined_routes,
    lapsed,
    left_fitted,
    lookalike,
    mis_sequenced,
    mismatched,
    no_reading,
    not_authorised,
    one_ended,
    out_of_calibration,
    out_of_limits,
    self_inspected,
    uninspected,
    unlisted,
    unmade,
    unproven,
    unreadable,
)
from joinmatrix.checks.check import Check
from joinmatrix.findings import Kind

ALL: tuple[Check, ...] = (
    unmade.CHECK,
    duplicate.CHECK,
    mis_sequenced.CHECK,
    contradiction.CHECK,
    unproven.CHECK,
    asymmetric.CHECK,
    conflict.CHECK,
    one_ended.CHECK,
    mismatched.CHECK,
    crossed.CHECK,
    broken_route.CHECK,
    joined_routes.CHECK,
    uninspected.CHECK,
    self_inspected.CHECK,
    lapsed.CHECK,
    out_of_limits.CHECK,
    no_reading.CHECK,
    left_fitted.CHECK,
    unlisted.CHECK,
    not_authorised.CHECK,
    out_of_calibration.CHECK,
    lookalike.CHECK,
    unreadable.CHECK,
)


def documentation(kind: Kind) -> str:
    """What a kind of finding means and what clears it: the docstring of its check's file."""
    check = next(check for check in ALL if check.kind is kind)
    return inspect.cleandoc(sys.modules[check.run.__module__].__doc__ or "")
