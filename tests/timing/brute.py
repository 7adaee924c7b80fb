"""An independent answer for small networks: every pair of points, every set of rules."""

from itertools import combinations

NONE = None


def longest(points, edges):
    """Greatest gap between every two points by Floyd and Warshall; None where there is no way."""
    table = [[NONE] * points for _ in range(points)]
    for point in range(points):
        table[point][point] = 0
    for edge in edges:
        known = table[edge.earlier][edge.later]
        if known is None or edge.gap > known:
            table[edge.earlier][edge.later] = edge.gap
    for middle in range(points):
        for row in table:
            if row[middle] is None:
                continue
            for later in range(points):
                rest = table[middle][later]
                if rest is not None and (row[later] is None or row[middle] + rest > row[later]):
                    row[later] = row[middle] + rest
    return table


def can_be_met(points, edges):
    """No point is later than itself."""
    table = longest(points, edges)
    return all(table[point][point] == 0 for point in range(points))


def fewest_rules(points, edges):
    """How many rules the smallest set has that cannot be met; None when all can be."""
    rules = sorted({edge.rule for edge in edges if edge.rule >= 0})
    for size in range(len(rules) + 1):
        for chosen in combinations(rules, size):
            some = [edge for edge in edges if edge.rule in chosen or edge.rule < 0]
            if not can_be_met(points, some):
                return size
    return None
