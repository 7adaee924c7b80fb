"""The readings of the record that count."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.counting_acts import since_making
from joinmatrix.assembly.model import Assembly, Entry, Key
from joinmatrix.assembly.standing import standings
from joinmatrix.lists.table import Source
from joinmatrix.place import Place
from joinmatrix.readings.limits import measure_key


class Written(NamedTuple):
    """The texts of a reading, without the place they stand in: many readings are alike."""

    measure: str
    key: str
    value: str
    unit: str
    extension: str
    wrench_length: str


class Measurement(NamedTuple):
    """One reading, as written.

    key  the measure as it is compared
    """

    measure: str
    key: str
    value: str
    unit: str
    source: Source
    entry: Entry

    @property
    def place(self) -> Place:
        """The cell of the value."""
        return self.source.place("value")

    @property
    def written(self) -> Written:
        """Its texts, those on the wrench with them."""
        row = self.source
        wrench = row.text("extension"), row.text("wrench length")
        return Written(self.measure, self.key, self.value, self.unit, *wrench)


@lru_cache(maxsize=8)
def counting(assembly: Assembly) -> Mapping[Key, tuple[Measurement, ...]]:
    """The readings of every connection that is made, earliest first.

    A reading counts from the latest making on. What was read before it was opened or made again
    tells nothing about how it is now.
    """
    found = {}
    stand = standings(assembly)
    read = {entry.key for entry in assembly.entries if not entry.tick and any(measurements(entry))}
    for key in filter(read.__contains__, stand):
        standing = stand[key]
        if standing.made is not None:
            readings = tuple(
                reading for entry in since_making(standing) for reading in measurements(entry)
            )
            if readings:
                found[key] = readings
    return found


def measurements(entry: Entry) -> Iterator[Measurement]:
    """The readings of one act, one for each row that has a value."""
    for row in entry.rows:
        value = row.text("value")
        if value:
            measure = row.text("measure")
            yield Measurement(measure, measure_key(measure), value, row.text("unit"), row, entry)
