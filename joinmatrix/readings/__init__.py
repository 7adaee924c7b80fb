"""Limits, units, and the readings of each connection held against its limits.

limits.py    the words of a limits cell -> limits
numbers.py   a number as it was written, with its last written digit
units.py     the spellings of units, and their conversion
wrench.py    what a torque wrench with an extension does at the nut
record.py    the readings of the record that count
judge.py     the readings of every connection against its limits, and what could not be read
"""

from joinmatrix.readings.judge import Judgement, Outcome, faults, judged
from joinmatrix.readings.limits import Limit, read_limits
from joinmatrix.readings.record import Measurement, counting

__all__ = [
    "Judgement",
    "Limit",
    "Measurement",
    "Outcome",
    "counting",
    "faults",
    "judged",
    "read_limits",
]
