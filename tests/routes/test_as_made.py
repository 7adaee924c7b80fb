"""What the wrong mates come to."""

import pytest

from joinmatrix.assembly.ports import ports
from joinmatrix.routes.as_made import AsMade, as_made, as_made_links
from tests.builders import assembly_of, table

LINES = "connection|joint|side|type|from|to\n" + "\n".join(
    f"H{number}|fin|C|line|a{number}|b{number}" for number in range(1, 6)
)
RUNS = "from|to|side\nb1|x1|C\na2|y2|C\nb2|x2|C"


def found_in(**found: str) -> AsMade:
    record = "\n".join(f"{name}|C|made|2026-03-04|{port}" for name, port in found.items())
    return as_made(
        assembly_of(
            table("connections", LINES),
            table("runs", RUNS),
            table("record", "connection|side|act|when|mated to\n" + record),
        )
    )


def names(mates) -> list[str]:
    return [mate.connection.id for mate in mates]


def told(result: AsMade) -> dict[str, list[list[str]]]:
    return {
        "swaps": [names(swap.mates) for swap in result.swaps],
        "clashes": [names(clash.mates) for clash in result.clashes],
        "shorts": [names(short.mates) for short in result.shorts],
        "opens": [names(each.mates) for each in result.opens],
        "strays": [[mate.connection.id] for mate in result.strays],
    }


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        pytest.param({}, {}, id="nothing-made"),
        pytest.param({"H1": "b1", "H2": ""}, {}, id="as-listed"),
        pytest.param({"H1": "b2", "H2": "b1"}, {"swaps": [["H1", "H2"]]}, id="pair"),
        pytest.param(
            {"H1": "b2", "H2": "b1", "H3": "b4", "H4": "b3"},
            {"swaps": [["H1", "H2"], ["H3", "H4"]]},
            id="two-pairs",
        ),
        pytest.param(
            {"H1": "b3", "H2": "b1", "H3": "b2"}, {"swaps": [["H1", "H3", "H2"]]}, id="ring"
        ),
        pytest.param(
            {"H1": "b2", "H2": "b1", "H3": "b1"},
            {"swaps": [["H1", "H2"]], "clashes": [["H2", "H3"]]},
            id="a-pair-and-a-third",
        ),
        pytest.param({"H1": "b2", "H2": ""}, {"clashes": [["H1"]]}, id="taken-by-its-owner"),
        pytest.param({"H1": "b3", "H2": "b3"}, {"clashes": [["H1", "H2"]]}, id="two-strangers"),
        pytest.param({"H1": "b2"}, {"shorts": [["H1"]]}, id="the-owner-is-not-made"),
        pytest.param(
            {"H1": "b2", "H2": "b3"}, {"shorts": [["H1"], ["H2"]]}, id="chain-that-stays-apart"
        ),
        pytest.param(
            {"H1": "x2", "H2": "b3"}, {"shorts": [["H1"], ["H2"]]}, id="two-routes-of-three"
        ),
        pytest.param({"H2": "y2"}, {"opens": [["H2"]]}, id="at-its-own-half"),
        pytest.param({"H1": "x1"}, {"strays": [["H1"]]}, id="beyond-its-port"),
    ],
)
def test_as_made(found, expected):
    empty = {"swaps": [], "clashes": [], "shorts": [], "opens": [], "strays": []}
    assert told(found_in(**found)) == empty | expected


def test_links_as_made_are_runs_and_what_is_made_where_it_was_found():
    assembly = assembly_of(
        table("connections", LINES),
        table("runs", RUNS),
        table("record", "connection|side|act|when|mated to\nH1|C|made|2026-03-04|b2\nH3|C|made||"),
    )
    key = ports(assembly).key
    links = {(key(one).name, key(other).name) for one, other in as_made_links(assembly)}
    assert links == {("a1", "b2"), ("a3", "b3"), ("b1", "x1"), ("a2", "y2"), ("b2", "x2")}
