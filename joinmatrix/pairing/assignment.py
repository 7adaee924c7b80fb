"""The best way to pair off two sides, solved to the optimum."""

from collections.abc import Mapping


def best_pairs(gains: Mapping[tuple[int, int], int]) -> list[tuple[int, int]]:
    """The pairs with the greatest total gain, each row and each column used once at most.

    gains   (row, column) -> what pairing them is worth, positive; what is not given is never paired
    return  pairs in the order of the rows
    source  maximum weight matching by the blossom method, as networkx has it; exact for integers
    """
    import networkx as nx

    graph = nx.Graph()
    for (row, column), gain in sorted(gains.items()):
        graph.add_edge((0, row), (1, column), weight=gain)
    pairs = []
    for component in nx.connected_components(graph):
        part = graph.subgraph(component)
        if len(component) == 2:
            pairs.append(sorted(component))
        else:
            pairs += [sorted(pair) for pair in nx.max_weight_matching(part)]
    return sorted((row[1], column[1]) for row, column in pairs)
