"""Circles in a graph: numbers that rise along every arc but inside a circle."""

from collections.abc import Sequence


def numbered(arcs: Sequence[Sequence[int]]) -> list[int]:
    """Return a number for each node: equal inside a circle, else rising along every arc.

    arcs: by node, the nodes that come after it. Source: Tarjan, "Depth-first search and linear
    graph algorithms", SIAM J. Comput. 1 (1972), without recursion.
    """
    search = _Search(arcs)
    for node in range(len(arcs)):
        if search.seen_at[node] < 0:
            search.walk(node)
    return [-number for number in search.circle]


class _Search:
    def __init__(self, arcs: Sequence[Sequence[int]]) -> None:
        self.arcs = arcs
        self.seen_at = [-1] * len(arcs)
        self.lowest = [0] * len(arcs)
        self.circle = [0] * len(arcs)
        self.open: list[int] = []
        self.is_open = [False] * len(arcs)
        self.seen_count = 0
        self.circle_count = 0

    def walk(self, root: int) -> None:
        path = [self._enter(root)]
        while path:
            node, at = path[-1]
            if at < len(self.arcs[node]):
                path[-1] = (node, at + 1)
                self._look(node, self.arcs[node][at], path)
                continue
            path.pop()
            if path:
                parent = path[-1][0]
                self.lowest[parent] = min(self.lowest[parent], self.lowest[node])
            if self.lowest[node] == self.seen_at[node]:
                self._close(node)

    def _enter(self, node: int) -> tuple[int, int]:
        self.seen_at[node] = self.lowest[node] = self.seen_count
        self.seen_count += 1
        self.open.append(node)
        self.is_open[node] = True
        return node, 0

    def _look(self, node: int, after: int, path: list[tuple[int, int]]) -> None:
        if self.seen_at[after] < 0:
            path.append(self._enter(after))
        elif self.is_open[after]:
            self.lowest[node] = min(self.lowest[node], self.seen_at[after])

    def _close(self, node: int) -> None:
        self.circle_count += 1
        member = -1
        while member != node:
            member = self.open.pop()
            self.is_open[member] = False
            self.circle[member] = self.circle_count
