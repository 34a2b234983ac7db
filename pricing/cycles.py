"""Finds circles: dishes that take each other, series that are each other's parent."""

from __future__ import annotations

from collections import deque
from collections.abc import Collection, Hashable, Mapping
from typing import TypeVar

Node = TypeVar("Node", bound=Hashable)


def near_circles(edges: Mapping[Node, Collection[Node]]) -> set[Node]:
    """Return every node from which a circle can be reached; empty when there is none.

    >>> sorted(near_circles({"pie": ["dough"], "soup": ["stock"], "stock": ["soup"]}))
    ['soup', 'stock']
    """
    takers: dict[Node, list[Node]] = {}
    open_ends: dict[Node, int] = {}
    for node, others in edges.items():
        open_ends[node] = len(set(others))
        for other in set(others):
            takers.setdefault(other, []).append(node)
            open_ends.setdefault(other, 0)
    done = deque(node for node, count in open_ends.items() if count == 0)
    while done:
        for taker in takers.get(done.popleft(), ()):
            open_ends[taker] -= 1
            if open_ends[taker] == 0:
                done.append(taker)
    return {node for node, count in open_ends.items() if count}


def circle_through(
    edges: Mapping[Node, Collection[Node]], start: Node, first: Node
) -> list[Node] | None:
    """Return the shortest circle start → first → … → start, or None.

    >>> circle_through({"soup": ["stock"], "stock": ["soup"]}, "soup", "stock")
    ['soup', 'stock', 'soup']
    """
    came_from: dict[Node, Node] = {}
    waiting = deque([first])
    seen = {first}
    while waiting:
        node = waiting.popleft()
        if node == start:
            path = [node]
            while path[-1] != first:
                path.append(came_from[path[-1]])
            return [start, *reversed(path)]
        for other in sorted(edges.get(node, ()), key=repr):
            if other not in seen:
                seen.add(other)
                came_from[other] = node
                waiting.append(other)
    return None
