"""What a call map is made from: the controls, and which acts on which.

It holds words and joins as plain data. It knows nothing electrical.
"""

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CallNode:
    """One control or load. `kind` is what it is ("thermostat"): written over it, and nodes of one kind stand level."""

    id: str
    words: str
    kind: str
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CallEdge:
    """One control acts on another. `words` say by what; they may be empty."""

    start: str
    end: str
    words: str = ""
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CallPart:
    """What one zone's call passes through: ids of nodes, and starts and ends of edges."""

    id: str
    words: str
    nodes: frozenset[str]
    edges: frozenset[tuple[str, str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class CallMap:
    """`prefix` and `states` as in a terminal drawing; with the same ones, one choice of state lights both.

    `parts` are those that a phone shows one by one.
    """

    prefix: str
    title: str
    nodes: tuple[CallNode, ...]
    edges: tuple[CallEdge, ...]
    description: str = ""
    states: tuple[str, ...] = ()
    parts: tuple[CallPart, ...] = ()

    def every_live_in(self) -> Iterator[tuple[str, ...]]:
        """Yield what each part says it is live in, in the order of the map."""
        yield from (node.live_in for node in self.nodes)
        yield from (edge.live_in for edge in self.edges)
