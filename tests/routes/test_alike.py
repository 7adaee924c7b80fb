"""Groups that can be swapped by hand."""

import pytest

from joinmatrix.routes.alike import Hazard, alike_groups
from tests.builders import assembly_of, table


@pytest.mark.parametrize(
    ("kind", "service", "hazard"),
    [
        ("control rod", "elevator", Hazard.FLIGHT_CONTROL),
        ("cable", "rudder trim cable", Hazard.FLIGHT_CONTROL),
        ("hydraulic line", "brake", Hazard.FLUID),
        ("hose", "fuel feed", Hazard.FLUID),
        ("connector", "lamp", Hazard.OTHER),
    ],
)
def test_hazard(kind, service, hazard):
    assembly = assembly_of(
        table(
            "connections",
            "connection|joint|side|type|service\n"
            f"A|f|C|{kind}|{service} 1\nB|f|C|{kind}|{service} 2",
        )
    )
    (group,) = alike_groups(assembly)
    assert group.hazard is hazard
    assert group.services == (f"{service} 1", f"{service} 2")
    assert group.apart == ()
