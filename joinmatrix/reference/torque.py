"""Published torques of bolts and flared tube nuts, and the torque wrench with an extension.

The tables give what a maker's manual or the approved data come before; they inform and never pass
or fail anything. All torques are in in-lbf. `sure` says how the figures came here: "seen" means
that the table itself was read.

    bolt_torque.csv              FAA AC 43.13-1B (8 Sep 1998), table 7-1: cadmium-plated steel nuts
                                 on oil-free threads, used only where the maker gives no value
    flared_tube_nut_torque.csv   US Army TM 55-1520-240-23-1, par. 1-13: nuts of 37 degree flares,
                                 lubricated threads
"""

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.reference.tables import rows


class Span(NamedTuple):
    """From the least to the most, in-lbf."""

    low: int
    high: int

    def __str__(self) -> str:
        return f"{self.low}..{self.high} in-lbf"


class BoltTorque(NamedTuple):
    """A row of the table of bolt torques.

    thread         "1/4-28"
    tension, shear  recommended for a tension nut and for a shear nut
    tension_most, shear_most  the most that is allowed
    estimated      the table marks its shear figures as estimates
    """

    series: str
    thread: str
    tension: Span
    shear: Span
    tension_most: int
    shear_most: int
    estimated: bool
    sure: str
    source: str


class TubeNutTorque(NamedTuple):
    """A row of the table of flared tube nuts.

    dash          "-6": the tube's outside diameter in sixteenths of an inch
    tube_outside  the same in inches, "3/8"
    """

    dash: str
    tube_outside: str
    aluminium: Span
    steel: Span
    hose: Span
    sure: str
    source: str


@lru_cache(maxsize=1)
def bolt_torques() -> Mapping[str, BoltTorque]:
    """The table of bolt torques by thread."""
    return {
        row["thread"]: BoltTorque(
            row["series"],
            row["thread"],
            _span(row, "tension"),
            _span(row, "shear"),
            int(row["tension_most"]),
            int(row["shear_most"]),
            row["shear_estimated"] == "yes",
            row["sure"],
            row["source"],
        )
        for row in rows("bolt_torque.csv")
    }


@lru_cache(maxsize=1)
def tube_nut_torques() -> Mapping[str, TubeNutTorque]:
    """The table of flared tube nuts by dash size."""
    return {
        row["dash"]: TubeNutTorque(
            row["dash"],
            row["tube_outside_in"],
            _span(row, "aluminium"),
            _span(row, "steel"),
            _span(row, "hose"),
            row["sure"],
            row["source"],
        )
        for row in rows("flared_tube_nut_torque.csv")
    }


def at_nut(shown: Fraction, lever: Fraction, extension: Fraction) -> Fraction:
    """The torque at the nut, for what a wrench with an extension shows.

    shown      torque on the wrench, any unit
    lever      length of the wrench, from the middle of its square to the middle of its grip
    extension  along the wrench, in the unit of the lever; negative when it shortens the lever
    raises     ValueError when there is no lever left
    source     NAVEDTRA 14315 fig. 3-44 and 3-45; US Army TM 1-1500-204-23-9 fig. 8-16
    """
    if lever <= 0 or lever + extension <= 0:
        raise ValueError("the wrench has no lever")
    return shown * (lever + extension) / lever


def setting(wanted: Fraction, lever: Fraction, extension: Fraction) -> Fraction:
    """What the wrench must show for a torque at the nut; `at_nut` the other way round."""
    return wanted / at_nut(Fraction(1), lever, extension)


def _span(row: Mapping[str, str], name: str) -> Span:
    return Span(int(row[f"{name}_low"]), int(row[f"{name}_high"]))
