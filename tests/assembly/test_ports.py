"""Ports, links and the graph of them."""

import networkx as nx
import pytest

from joinmatrix.assembly.model import Connection, Key, Run
from joinmatrix.assembly.ports import (
    components,
    designed_routes,
    links_of_routes,
    port_graph,
    port_names,
    ports,
    taken_twice,
    written_name,
)
from tests.builders import assembly_of, table

LISTS = (
    table(
        "connections",
        "connection|joint|side|type|from|to\n"
        "H1|fin|both|line|A 1|b\nH2|fin|L|line|C|\nX|fin|L|bolt||",
    ),
    table("runs", "from|to|side\nb|W1|L\nB|w1|R\nW1|far|L"),
)


def test_every_port_is_known_by_name_and_side():
    known = ports(assembly_of(*LISTS))
    assert list(known.every_key()) == [
        Key("a 1", "L"), Key("b", "L"), Key("a 1", "R"), Key("b", "R"), Key("c", "L"),
        Key("w1", "L"), Key("w1", "R"), Key("far", "L"),
    ]  # fmt: skip
    assert [known.key(number) for number in range(8)] == list(known.every_key())
    assert known.number(Key("w1", "R")) == 6
    assert Key("far", "R") not in known
    assert [connection.id for connection, _ in known.loose] == ["H2"]


def test_names_are_shown_as_first_written():
    assembly = assembly_of(*LISTS)
    names = port_names(assembly)
    assert names[Key("a 1", "L")] == "A 1"
    assert names[Key("b", "R")] == "b"
    assert all(written_name(assembly, key) == name for key, name in names.items())


def test_the_graph_has_every_port_and_link():
    assembly = assembly_of(*LISTS)
    graph = port_graph(assembly)
    assert isinstance(graph, nx.MultiGraph)
    assert graph is port_graph(assembly)
    assert set(graph) == set(ports(assembly).every_key())
    kinds = sorted(type(link).__name__ for *_, link in graph.edges(data="link"))
    assert kinds == ["Connection", "Connection", "Run", "Run", "Run"]
    assert graph.nodes[Key("a 1", "L")]["name"] == "A 1"
    with pytest.raises(nx.NetworkXError):
        graph.add_node(Key("new", "L"))


def test_the_graph_of_one_route():
    assembly = assembly_of(*LISTS)
    route = designed_routes(assembly)[ports(assembly).number(Key("b", "L"))]
    graph = port_graph(assembly, route)
    assert {key.name for key in graph} == {"a 1", "b", "w1", "far"}
    assert nx.is_connected(graph)


def test_parallel_connections_are_parallel_edges():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type|from|to\nH1|f|C|x|A|b\nH2|f|C|x|b|A")
    )
    assert port_graph(assembly).number_of_edges(Key("a", "C"), Key("b", "C")) == 2


@pytest.mark.parametrize(
    ("links", "expected"),
    [
        pytest.param([], [0, 1, 2, 3, 4], id="nothing-joined"),
        pytest.param([(0, 0)], [0, 1, 2, 3, 4], id="to-itself"),
        pytest.param([(4, 3), (3, 1)], [0, 1, 2, 1, 1], id="chain"),
        pytest.param([(0, 1), (2, 3), (3, 0), (1, 2)], [0, 0, 0, 0, 4], id="ring"),
        pytest.param([(4, 2), (4, 0)], [0, 1, 0, 3, 0], id="named-by-the-first"),
    ],
)
def test_components(links, expected):
    assert components(5, [one for one, _ in links], [other for _, other in links]) == expected


def test_links_of_routes():
    assembly = assembly_of(*LISTS)
    known = ports(assembly)
    found = links_of_routes(assembly)
    assert sorted(index for links in found.values() for index in links) == list(
        range(len(known.starts))
    )
    left = [known.link(index) for index in found[0]]
    assert [type(link) for link in left] == [Connection, Run, Run]


def test_taken_twice_gives_the_port_or_the_pair():
    assembly = assembly_of(
        table(
            "connections",
            "connection|joint|side|type|from|to\nH1|f|C|x|A|b\nH2|f|C|x|b|A\nH3|f|C|x|E|f\n"
            "H4|f|C|x|E|g\nH5|f|C|x|g|",
        )
    )
    said = [
        (taken.port and taken.port.name, [each.id for each in taken.connections])
        for taken in taken_twice(assembly)
    ]
    assert said == [(None, ["H1", "H2"]), ("e", ["H3", "H4"]), ("g", ["H4", "H5"])]
