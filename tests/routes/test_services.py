"""Services and their words."""

import pytest

from joinmatrix.routes.services import broken_services, joined_services, service_of
from tests.builders import assembly_of, table


@pytest.mark.parametrize(
    ("one", "other", "differs"),
    [
        ("brake pressure", "Brake  Pressure", False),
        ("brake pressure", "brake-pressure", False),
        ("brake", "brake left", False),
        ("left brake", "brake LH", False),
        ("brake left", "brake right", True),
        ("left", "right", True),
        ("brake pressure", "brake return", True),
        ("bus 1", "bus 2", True),
    ],
)
def test_differs(one, other, differs):
    assert service_of(one).differs(service_of(other)) is differs
    assert service_of(other).differs(service_of(one)) is differs


def test_a_service_without_a_side_hides_no_difference():
    lines = "connection|joint|side|type|service|from|to\n" + "\n".join(
        f"H{n}|j{n}|C|line|{service}|a{n}|b{n}"
        for n, service in enumerate(("brake", "brake left", "brake right"))
    )
    assembly = assembly_of(
        table("connections", lines), table("runs", "from|to|side\nb0|a1|C\nb1|a2|C")
    )
    (joined,) = joined_services(assembly)
    assert joined.services == ("brake", "brake left", "brake right")


def _three_joints(right: str, differences: str = ""):
    lines = "connection|joint|side|type|service|from|to\n" + "\n".join(
        f"H{n}|j{n}|{side}|line|fuel|a{n}|b{n}"
        for n in range(3)
        for side in "LR"
        if f"{n}{side}" != right
    )
    tables = [
        table("connections", lines),
        table("runs", "from|to|side\nb0|a1|both\nb1|a2|both"),
    ]
    if differences:
        tables.append(table("differences", "connection|reason\n" + differences))
    return assembly_of(*tables)


@pytest.mark.parametrize(
    ("missing", "differences", "broken"),
    [
        pytest.param("", "", [], id="whole"),
        pytest.param("1R", "", [], id="a-connection-is-missing-on-one-side"),
        pytest.param("1R", "H1|no tank there", ["R"], id="and-that-is-agreed"),
    ],
)
def test_a_missing_connection_is_told_as_asymmetric(missing, differences, broken):
    found = broken_services(_three_joints(missing, differences))
    assert [each.side for each in found] == broken
