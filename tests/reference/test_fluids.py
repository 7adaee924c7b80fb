"""What flows."""

import pytest

from joinmatrix.reference.fluids import fluid_functions, is_fluid


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("control rod", False),
        ("28 V supply", False),
        ("airframe bonding", False),
        ("electrical conduit", False),
        ("hydraulic line", True),
        ("Brake pressure", True),
        ("instrument air", True),
        ("FUEL FEED", True),
    ],
)
def test_is_fluid(text, expected):
    assert is_fluid(text) is expected


def test_functions_come_from_the_table():
    assert "breathing oxygen" in fluid_functions()
    assert "electrical conduit" not in fluid_functions()
