"""Draws which control acts on which, from the timer to the pump: the whole house, or zone by zone for a phone.

It knows words and joins only. Graphviz says where things stand; everything written is written here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.drawings.call_map_model import CallEdge, CallMap, CallNode
from generator.drawings.geometry import Point
from generator.drawings.graph_layout import PlacedEdge, PlacedGraph, place_graph
from generator.drawings.names import css_token, element_id, is_prefix, live_class, state_class
from generator.drawings.sizes import NAME_PX, PHONE_PX, PLACE_PX, WORDS_PX
from generator.drawings.svg_templates import fill, number
from generator.drawings.terminal_model import DrawingInputError
from generator.drawings.text_measure import measure, wrap

_MOST_WORDS_PX = 118.0
_MOST_NARROW_PX = 76.0
_LEAVES_IN_ROW = 2
_LEAST_NODE_PX = 64.0
_MOST_LABEL_PX = 96.0
_LINE_PX = 15
_KIND_LINE_PX = 14
_PAD_PX = 10
_MARGIN_PX = 10
_ARROW_HALF_PX = 4.0


def draw_call_map(call_map: CallMap, *, state: str | None = None) -> str:
    """Return the call map as an `<svg>` element of its natural width; what holds it must let it scroll.

    Raises:
        DrawingInputError: an edge names a node that is not there, an id is used twice, or the prefix is no prefix.
    """
    _check(call_map, state)
    return _draw(call_map, "", state)


def draw_call_parts(call_map: CallMap, *, state: str | None = None) -> tuple[tuple[str, str], ...]:
    """Return each zone's part of the map with its words: from the top down, as narrow as may be.

    Raises:
        DrawingInputError: as for the whole map.
    """
    _check(call_map, state)
    return tuple(
        (
            part.words,
            _draw(
                replace(
                    call_map,
                    title=f"{call_map.title}: {part.words}",
                    nodes=tuple(node for node in call_map.nodes if node.id in part.nodes),
                    edges=tuple(edge for edge in call_map.edges if (edge.start, edge.end) in part.edges),
                ),
                part.id,
                state,
            ),
        )
        for part in call_map.parts
    )


def _draw(call_map: CallMap, part: str, state: str | None) -> str:
    """Draw the whole map, or with a name of a part that alone: downwards, with narrower words if they help it to fit."""
    placed = _place(call_map, _MOST_WORDS_PX, downwards=bool(part))
    if part and _width(placed.graph) > PHONE_PX:
        placed = _place(call_map, _MOST_NARROW_PX, downwards=True)
    if part and _width(placed.graph) > PHONE_PX:
        placed = _place(call_map, _MOST_NARROW_PX, downwards=True, under=_leaves_in_rows(call_map))
    return _write(call_map, part, state, placed)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    words: list[tuple[str, ...]]
    labels: list[tuple[str, ...]]
    sizes: list[tuple[float, float]]
    graph: PlacedGraph


def _width(graph: PlacedGraph) -> int:
    return math.ceil(graph.width + 2 * _MARGIN_PX)


def _leaves_in_rows(call_map: CallMap) -> list[tuple[int, int]]:
    """Which of the nodes that act on nothing stands under which: of those that one node acts on, few in a row."""
    place = {node.id: index for index, node in enumerate(call_map.nodes)}
    starts = {edge.start for edge in call_map.edges}
    leaves: dict[str, list[int]] = {}
    for edge in call_map.edges:
        if edge.end not in starts:
            leaves.setdefault(edge.start, []).append(place[edge.end])
    return [pair for found in leaves.values() for pair in zip(found, found[_LEAVES_IN_ROW:], strict=False)]


def _place(
    call_map: CallMap, most_px: float, *, downwards: bool, under: Sequence[tuple[int, int]] = ()
) -> _Placed:
    words = [wrap(node.words, most_px, NAME_PX, lines=4, bold=True) for node in call_map.nodes]
    labels = [
        wrap(edge.words, _MOST_LABEL_PX, WORDS_PX, lines=2) if edge.words else () for edge in call_map.edges
    ]
    place = {node.id: index for index, node in enumerate(call_map.nodes)}
    sizes = _node_sizes(call_map.nodes, words)
    graph = place_graph(
        sizes,
        [
            (place[edge.start], place[edge.end], _label_size(lines) if lines else None)
            for edge, lines in zip(call_map.edges, labels, strict=True)
        ],
        () if downwards else _levels(call_map),
        downwards=downwards,
        under=under,
    )
    return _Placed(words=words, labels=labels, sizes=sizes, graph=graph)


def _write(call_map: CallMap, part: str, state: str | None, placed: _Placed) -> str:
    ids = f"{call_map.prefix}-{css_token(part)}" if part else call_map.prefix
    graph = placed.graph
    return fill(
        "call_map.svg.j2",
        id=f"{ids}-calls",
        css=call_map.prefix + (f" {state_class(state)}" if state is not None else ""),
        title=call_map.title,
        description=call_map.description,
        width=_width(graph),
        height=math.ceil(graph.height + 2 * _MARGIN_PX),
        nodes=[
            _node(ids, call_map.prefix, node, lines, size, middle)
            for node, lines, size, middle in zip(
                call_map.nodes, placed.words, placed.sizes, graph.nodes, strict=True
            )
        ],
        edges=[
            _edge(call_map.prefix, edge, lines, curve)
            for edge, lines, curve in zip(call_map.edges, placed.labels, graph.edges, strict=True)
        ],
    )


def _check(call_map: CallMap, state: str | None) -> None:
    faults = []
    if not is_prefix(call_map.prefix):
        faults.append("the prefix must be a letter, then letters, digits or hyphens")
    ids = [node.id for node in call_map.nodes]
    if len(ids) != len(set(ids)):
        faults.append("the id of a node is used twice")
    if not call_map.nodes:
        faults.append("it has no nodes")
    faults.extend(
        f"an edge names {end!r}, which is not there"
        for edge in call_map.edges
        for end in (edge.start, edge.end)
        if end not in ids
    )
    faults.extend(
        f"something is live in state {name!r}, which the map does not list"
        for live_in in call_map.every_live_in()
        for name in live_in
        if name not in call_map.states
    )
    if state is not None and state not in call_map.states:
        faults.append(f"it has no state {state!r}")
    if faults:
        raise DrawingInputError(call_map.prefix, tuple(faults))


def _levels(call_map: CallMap) -> list[list[int]]:
    """Return the nodes of each kind, to stand in one column; not where one acts on another of its kind."""
    kinds: dict[str, list[int]] = {}
    for index, node in enumerate(call_map.nodes):
        kinds.setdefault(node.kind, []).append(index)
    kind_of = {node.id: node.kind for node in call_map.nodes}
    chained = {kind_of[edge.start] for edge in call_map.edges if kind_of[edge.start] == kind_of[edge.end]}
    return [nodes for kind, nodes in kinds.items() if kind and kind not in chained and len(nodes) > 1]


def _node_sizes(nodes: tuple[CallNode, ...], words: list[tuple[str, ...]]) -> list[tuple[float, float]]:
    """Return the size of each node: all of one kind are as wide as the widest, so that columns are straight."""
    widest: dict[str, float] = {}
    for node, lines in zip(nodes, words, strict=True):
        text = max(measure(line, NAME_PX, bold=True) for line in lines)
        width = math.ceil(max(text, measure(node.kind, PLACE_PX))) + 2 * _PAD_PX
        widest[node.kind] = max(widest.get(node.kind, _LEAST_NODE_PX), width)
    return [
        (widest[node.kind], _LINE_PX * len(lines) + (_KIND_LINE_PX if node.kind else 0) + _PAD_PX)
        for node, lines in zip(nodes, words, strict=True)
    ]


def _label_size(lines: tuple[str, ...]) -> tuple[float, float]:
    return math.ceil(max(measure(line, WORDS_PX) for line in lines)) + 8, 14.0 * len(lines) + 8


def _node(
    ids: str, prefix: str, node: CallNode, lines: tuple[str, ...], size: tuple[float, float], middle: Point
) -> dict[str, object]:
    left, top = middle.x - size[0] / 2 + _MARGIN_PX, middle.y - size[1] / 2 + _MARGIN_PX
    first = top + _PAD_PX / 2 + 11
    kind_y = first
    if node.kind:
        first += _KIND_LINE_PX
    return {
        "id": element_id(ids, "call", node.id),
        "css": f"hb-kind-{css_token(node.kind)} {live_class(prefix, node.live_in)}".strip(),
        "title": f"{node.kind}: {node.words}" if node.kind else node.words,
        "x": number(left),
        "y": number(top),
        "width": number(size[0]),
        "height": number(size[1]),
        "middle": number(middle.x + _MARGIN_PX),
        "kind": node.kind,
        "kind_y": number(kind_y),
        "lines": [{"text": text, "y": number(first + _LINE_PX * line)} for line, text in enumerate(lines)],
    }


def _edge(prefix: str, edge: CallEdge, lines: tuple[str, ...], placed: PlacedEdge) -> dict[str, object]:
    moved = [Point(point.x + _MARGIN_PX, point.y + _MARGIN_PX) for point in placed.curve]
    curve = f"M{_pair(moved[0])}C{' '.join(_pair(point) for point in moved[1:])}"
    tip = Point(placed.tip.x + _MARGIN_PX, placed.tip.y + _MARGIN_PX)
    values: dict[str, object] = {
        "live": live_class(prefix, edge.live_in),
        "d": curve,
        "arrow": _arrow(moved[-1], tip),
        "lines": [],
        "x": "0",
    }
    if placed.label is not None and lines:
        x, y = placed.label.x + _MARGIN_PX, placed.label.y + _MARGIN_PX
        first = y - 14 * (len(lines) - 1) / 2 + 3.8
        values |= {
            "x": number(x),
            "lines": [{"text": text, "y": number(first + 14 * line)} for line, text in enumerate(lines)],
        }
    return values


def _pair(point: Point) -> str:
    return f"{number(point.x)} {number(point.y)}"


def _arrow(start: Point, tip: Point) -> str:
    """Return the path of an arrow head with its base at `start`."""
    length = math.hypot(tip.x - start.x, tip.y - start.y) or 1.0
    across = Point(-(tip.y - start.y) / length * _ARROW_HALF_PX, (tip.x - start.x) / length * _ARROW_HALF_PX)
    one = Point(start.x + across.x, start.y + across.y)
    other = Point(start.x - across.x, start.y - across.y)
    return f"M{_pair(one)}L{_pair(tip)}L{_pair(other)}Z"
