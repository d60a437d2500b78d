"""Places a directed graph from left to right or downwards with Graphviz, in this process: the one module that knows Graphviz.

It knows sizes and joins only. No word of a drawing reaches Graphviz: nodes and edges go in as numbered boxes of fixed
size and come out as positions, so fonts do not matter and no text can break out of the DOT source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import graphviz
import pygraphviz

from generator.drawings.geometry import Point

_POINTS_PER_INCH = 72

Size = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedEdge:
    """A curve: a start, then three points for each Bézier piece; where its arrow ends; the middle of its label."""

    curve: tuple[Point, ...]
    tip: Point
    label: Point | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedGraph:
    """Middles of the nodes and the edges, in the order given; y grows downwards."""

    width: float
    height: float
    nodes: tuple[Point, ...]
    edges: tuple[PlacedEdge, ...]


def write_dot(
    nodes: Sequence[Size],
    edges: Sequence[tuple[int, int, Size | None]],
    levels: Sequence[Sequence[int]],
    *,
    downwards: bool = False,
    under: Sequence[tuple[int, int]] = (),
) -> str:
    """Return the DOT source. Sizes are in px; an edge has the size of its label; each level stands in one column.

    `downwards` turns it: from the top down, each level in one row, and as narrow as may be; `under` says which node
    stands further down than which, though no edge joins them.
    """
    apart = {"rankdir": "TB", "nodesep": "0.12", "ranksep": "0.35"}
    graph = graphviz.Digraph(
        graph_attr={
            **(apart if downwards else {"rankdir": "LR", "nodesep": "0.3", "ranksep": "0.5"}),
            "splines": "true",
        },
        node_attr={"shape": "box", "fixedsize": "true", "label": ""},
        edge_attr={"arrowsize": "0.8"},
    )
    for index, (width, height) in enumerate(nodes):
        graph.node(
            f"n{index}", width=f"{width / _POINTS_PER_INCH:.4f}", height=f"{height / _POINTS_PER_INCH:.4f}"
        )
    for index, (start, end, label) in enumerate(edges):
        attributes = {"key": f"e{index}"}
        if label is not None:
            attributes["label"] = _empty_table(label)
        graph.edge(f"n{start}", f"n{end}", **attributes)
    for upper, lower in under:
        graph.edge(f"n{upper}", f"n{lower}", style="invis", key=f"u{upper}-{lower}")
    for level in levels:
        with graph.subgraph(graph_attr={"rank": "same"}) as column:
            for index in level:
                column.node(f"n{index}")
    return str(graph.source)


def _empty_table(size: Size) -> str:
    width, height = size
    return (
        f'<<table border="0" cellborder="0" fixedsize="true" width="{width:.0f}" height="{height:.0f}">'
        "<tr><td></td></tr></table>>"
    )


def place_graph(
    nodes: Sequence[Size],
    edges: Sequence[tuple[int, int, Size | None]],
    levels: Sequence[Sequence[int]] = (),
    *,
    downwards: bool = False,
    under: Sequence[tuple[int, int]] = (),
) -> PlacedGraph:
    """Place a graph; arguments as for `write_dot`. The same input gives the same positions."""
    graph = pygraphviz.AGraph(
        string=write_dot(nodes, edges, levels, downwards=downwards, under=under), strict=False
    )
    graph.layout(prog="dot")
    _, _, width, height = (float(value) for value in str(graph.graph_attr["bb"]).split(","))

    def point(text: str) -> Point:
        x, y = text.split(",")
        return Point(float(x), height - float(y))

    places = tuple(point(str(graph.get_node(f"n{index}").attr["pos"])) for index in range(len(nodes)))
    found = []
    for index, (start, end, _) in enumerate(edges):
        attributes = graph.get_edge(f"n{start}", f"n{end}", key=f"e{index}").attr
        # "e,x,y" is the tip of the arrow; the points of the curve follow.
        first, *rest = str(attributes["pos"]).split()
        label = str(attributes["lp"] or "")
        found.append(
            PlacedEdge(
                tip=point(first.removeprefix("e,")),
                curve=tuple(point(text) for text in rest),
                label=point(label) if label else None,
            )
        )
    graph.close()
    return PlacedGraph(width=width, height=height, nodes=places, edges=tuple(found))
