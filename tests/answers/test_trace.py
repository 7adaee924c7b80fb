"""The way of a port."""

import pytest

from joinmatrix.answers.trace import Port, trace
from joinmatrix.errors import CallError
from tests.builders import assembly_of, table

LINES = table(
    "connections",
    """connection|joint|side|type|service|from|to
H1|outer|both|line|brake pressure|A|b
H2|outer|both|line|brake return|C|d
H4|tip|both|line|brake pressure|W1|t1
H5|tip|both|line|brake return|W2|t2
H6|tip|L|line|drain|W9|
S1|fin|C|cable|trim|p|q""",
)
RUNS = table(
    "runs",
    """from|to|side|half
b|W1|both|wing
d|W2|L|wing
d|W3|R|wing
b|W9|L|wing
t1|A1|R|float""",
)
RECORD = table(
    "record",
    """connection|side|act|when|mated to
H1|L|made|2026-03-04|d
H2|L|made|2026-03-04|b
H4|R|placed|2026-03-04|""",
)


def test_the_whole_way_in_walking_order():
    found = trace(assembly_of(LINES, RUNS), "d", "L")
    assert (found.port, found.side) == ("d", "L")
    assert found.services == ("brake return",)
    assert found.ports == tuple(Port(name, "L") for name in ("d", "C", "W2", "t2"))
    assert [(s.by, s.joint, s.side, s.start.port, s.end.port, s.state) for s in found.links] == [
        ("H2", "outer", "L", "d", "C", "listed"),
        ("run", "", "L", "d", "W2", "fixed"),
        ("H5", "tip", "L", "W2", "t2", "listed"),
    ]
    assert found.ends == (Port("C", "L"), Port("t2", "L"))


def test_the_drawing():
    found = trace(assembly_of(LINES, RUNS, RECORD), "A", "L")
    assert (
        "\n".join(found.lines)
        == """\
A L
|  H1, outer L, brake pressure: made  <- "H1" is mated to "d", not to "b"
b L
+- run, wing
|  W1 L
|  |  H4, tip L, brake pressure: listed  <- open
|  t1 L (ends here)
+- run, wing
|  W9 L (ends here)"""
    )


def test_where_it_is_open():
    found = trace(assembly_of(LINES, RUNS, RECORD), "A L")
    assert found.open_at == (
        'outer L: "H1" is mated to "d", not to "b"',
        '"H4" (tip L) is not placed, not made',
        '"H6" (tip L) has no "to" port',
    )
    assert trace(assembly_of(LINES, RUNS, RECORD), "A R").open_at == (
        '"H1" (outer R) is not placed, not made',
        '"H4" (tip R) is placed, not made',
    )


@pytest.mark.parametrize(
    ("port", "services"),
    [
        pytest.param("Q L", ("trim",), id="no-link-at-all"),
        pytest.param("W9 L", ("drain", "brake pressure"), id="at-the-port-that-is-asked"),
        pytest.param("A L", ("brake pressure", "drain"), id="farther-along"),
        pytest.param("A R", ("brake pressure",), id="on-another-side"),
    ],
)
def test_what_one_ended_connections_carry(port, services):
    one_ended = table(
        "connections", "connection|joint|side|type|service|from\nS2|fin|L|cable|trim|Q",
        file="half.xlsx",
    )  # fmt: skip
    assert trace(assembly_of(LINES, one_ended, RUNS), port).services == services


def test_a_plan_has_no_open_work():
    found = trace(assembly_of(LINES, RUNS), "C", "L")
    assert found.open_at == ()
    assert not any("open" in line for line in found.lines)


@pytest.mark.parametrize(
    ("port", "side", "said"),
    [
        pytest.param("p", None, [], id="centre-line"),
        pytest.param(
            "d", "L",
            [
                'the run "d" (L) to "W2" (L) has no like there: '
                'from "d" (R) the run leads to "W3" (R)'
            ],
            id="another-port",
        ),
        pytest.param(
            "b", "L",
            [
                'the run "b" (L) to "W9" (L) has no like there: '
                'from "b" (R) the run leads to "W1" (R)'
            ],
            id="a-run-that-the-other-side-lacks",
        ),
        pytest.param(
            "W2", "R", ['from "W2" (L) a run leads to "d" (L), from "W2" (R) not'],
            id="a-run-that-this-side-lacks",
        ),
    ],
)  # fmt: skip
def test_where_the_alike_route_departs(port, side, said):
    found = trace(assembly_of(LINES, RUNS), port, side)
    assert [each.text for each in found.departures] == said


def test_alike_routes_depart_nowhere():
    lines = "connection|joint|side|type|service|from|to\nH-1|o|L|x|s|A-L|b-L\nH-1|o|R|x|s|A-R|b-R"
    runs = "from|to|side\nb-L|W-L|L\nb-R|W-R|R"
    assembly = assembly_of(table("connections", lines), table("runs", runs))
    assert trace(assembly, "A-L").departures == ()


def test_a_connection_without_counterpart():
    lines = "connection|joint|side|type|service|from|to\nH1|o|both|x|s|A|b\nH2|t|L|x|s|c|d"
    runs = "from|to|side\nb|c|both"
    assembly = assembly_of(table("connections", lines), table("runs", runs))
    (departure,) = trace(assembly, "A", "L").departures
    assert (departure.side, departure.text) == ("R", '"H2" (t) has no like there')


def test_a_loop_is_walked_once():
    runs = "from|to|side\nb|x|C\nx|y|C\ny|b|C"
    lines = "connection|joint|side|type|from|to\nH1|o|C|x|A|b"
    found = trace(assembly_of(table("connections", lines), table("runs", runs)), "A")
    assert len(found.links) == 4
    assert [step.again for step in found.links] == [False, False, False, True]


def test_a_long_chain():
    count = 3000
    lines = "connection|joint|side|type|from|to\nH1|o|C|x|A|p0"
    runs = "from|to|side\n" + "\n".join(f"p{n}|p{n + 1}|C" for n in range(count))
    found = trace(assembly_of(table("connections", lines), table("runs", runs)), "A")
    assert len(found.ports) == count + 2
    assert found.lines[-1] == f"p{count} C (ends here)"


def test_a_port_alone():
    found = trace(assembly_of(LINES, RUNS), "p")
    assert found.side == "C"
    lines = "connection|joint|side|type|from|to\nH1|o|C|x|A|"
    found = trace(assembly_of(table("connections", lines)), "A")
    assert found.lines == ("A C (ends here)",)
    assert found.open_at == ('"H1" (o C) has no "to" port',)


@pytest.mark.parametrize(
    ("port", "side", "said"),
    [
        pytest.param("A", None, 'port "A" is on sides "L" and "R"', id="on-two-sides"),
        pytest.param("WW1", "L", '"W1"', id="nearest-names"),
        pytest.param("W3", "L", 'port "W3" is not on side L. It is on "R"', id="on-the-other-side"),
        pytest.param("A", "upper", 'no port is on side "upper"', id="no-such-side"),
    ],
)
def test_what_cannot_be_traced(port, side, said):
    with pytest.raises(CallError) as error:
        trace(assembly_of(LINES, RUNS), port, side)
    assert said in str(error.value)
