"""The call map reads from left to right, says only what it was given, and lights with the same states."""

import itertools
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from generator.drawings.call_map import draw_call_map, draw_call_parts
from generator.drawings.call_map_model import CallEdge, CallMap, CallNode, CallPart
from generator.drawings.drawing_css import list_live_classes, state_css
from generator.drawings.graph_layout import place_graph, write_dot
from generator.drawings.terminal_model import DrawingInputError
from tests.unit.drawings.call_maps import build_call_map
from tests.unit.drawings.houses import build_house
from tests.unit.drawings.svg_boxes import ids_in

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "<script>alert(1)</script> \" ' & \\N ]; node [label=x] <b>\x00"


def _nodes(svg: str) -> dict[str, tuple[float, float, float]]:
    """Return left edge, middle height and right edge of each node by its title."""
    found = {}
    for group in ElementTree.fromstring(svg).iter(f"{SVG}g"):  # noqa: S314 - our own output
        title, rect = group.findtext(f"{SVG}title"), group.find(f"{SVG}rect")
        if title and rect is not None:
            x, y, width, height = (float(rect.get(name, "")) for name in ("x", "y", "width", "height"))
            found[title] = (x, y + height / 2, x + width)
    return found


@pytest.mark.parametrize("zones", [1, 2, 4, 8, 12])
def test_timer_thermostat_valve_boiler_pump_stand_from_left_to_right(zones: int) -> None:
    nodes = _nodes(draw_call_map(build_call_map(zones)))
    columns = [
        [edges for title, edges in nodes.items() if title.startswith(f"{kind}:")]
        for kind in ("timer", "thermostat", "valve", "boiler", "pump")
    ]
    for before, after in itertools.pairwise(columns):
        assert max(right for _, _, right in before) < min(left for left, _, _ in after)
    assert [len(column) for column in columns] == [1, zones, zones, 1, 1]


def test_nodes_do_not_overlap() -> None:
    nodes = list(_nodes(draw_call_map(build_call_map(8))).values())
    for index, (left, middle, right) in enumerate(nodes):
        for other_left, other_middle, other_right in nodes[:index]:
            assert right < other_left or other_right < left or abs(middle - other_middle) > 30


def test_no_word_reaches_graphviz() -> None:
    dot = write_dot([(80, 40), (80, 40)], [(0, 1, (50.0, 16.0))], [[0], [1]])
    assert re.findall(r"label=\"?([A-Za-z]+)", dot) == []
    assert "rankdir=LR" in dot


def test_hostile_words_are_inert() -> None:
    call_map = CallMap(
        prefix="p",
        title=HOSTILE,
        description=HOSTILE,
        states=(HOSTILE,),
        nodes=(
            CallNode(id=HOSTILE, words=HOSTILE, kind=HOSTILE, live_in=(HOSTILE,)),
            CallNode(id="b", words="", kind=""),
        ),
        edges=(CallEdge(start=HOSTILE, end="b", words=HOSTILE, live_in=(HOSTILE,)),),
    )
    root = ElementTree.fromstring(draw_call_map(call_map, state=HOSTILE))  # noqa: S314 - our own output
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags == {"svg", "g", "rect", "path", "text", "title", "desc"}
    assert "script" not in state_css(call_map).replace("_3c_script_3e_", "").replace("_2f_script_3e_", "")


def test_it_names_no_font_no_colour_and_no_host() -> None:
    svg = draw_call_map(build_call_map())
    assert svg.count("http") == 1
    for word in ("font", "fill=", "stroke=", "style=", "url("):
        assert word not in svg


def test_it_is_the_same_twice() -> None:
    assert draw_call_map(build_call_map(6)) == draw_call_map(build_call_map(6))


def test_two_edges_between_the_same_nodes_and_a_loop_are_all_drawn() -> None:
    nodes = (CallNode(id="a", words="A", kind="relay"), CallNode(id="b", words="B", kind="relay"))
    edges = (
        CallEdge(start="a", end="b", words="one"),
        CallEdge(start="a", end="b", words="two"),
        CallEdge(start="b", end="a"),
        CallEdge(start="b", end="b", words="holds itself"),
    )
    svg = draw_call_map(CallMap(prefix="p", title="t", nodes=nodes, edges=edges))
    assert svg.count('class="hb-act"') == 4
    assert ">holds itself<" in svg


def test_one_choice_of_state_lights_the_map_and_the_terminals() -> None:
    call_map, house = build_call_map(4), build_house(4)
    map_classes, house_classes = (list_live_classes(part, "zone-2") for part in (call_map, house))
    assert set(map_classes) <= set(house_classes)


def test_labels_of_edges_get_a_place_of_their_own() -> None:
    placed = place_graph([(80, 40)] * 3, [(0, 1, (60, 20)), (1, 2, None)])
    assert placed.edges[0].label is not None
    assert placed.edges[1].label is None
    assert placed.nodes[0].x + 40 < placed.edges[0].label.x < placed.nodes[1].x - 40


@pytest.mark.parametrize(
    "change",
    [
        {"prefix": "0"},
        {"nodes": ()},
        {"edges": (CallEdge(start="timer", end="nowhere"),)},
        {"states": ()},
    ],
)
def test_a_map_that_contradicts_itself_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(DrawingInputError):
        draw_call_map(replace(build_call_map(), **change))  # type: ignore[arg-type]


def _in_parts(zones: int) -> CallMap:
    whole = build_call_map(zones)
    parts = []
    for state in whole.states:
        edges = [edge for edge in whole.edges if state in edge.live_in]
        parts.append(
            CallPart(
                id=state,
                words=f"Only {state}",
                nodes=frozenset(end for edge in edges for end in (edge.start, edge.end)),
                edges=frozenset((edge.start, edge.end) for edge in edges),
            )
        )
    return replace(whole, parts=tuple(parts))


@pytest.mark.parametrize("zones", [1, 4, 16])
def test_each_zone_by_itself_reads_downwards_on_a_phone(zones: int) -> None:
    call_map = _in_parts(zones)
    drawn = draw_call_parts(call_map)
    assert [words for words, _ in drawn] == [f"Only zone-{number}" for number in range(1, zones + 1)]
    for _, svg in drawn:
        # Common practice, no source: as wide as the narrowest telephones in use show.
        assert float(ElementTree.fromstring(svg).get("width", "")) <= 302  # noqa: S314 - our own output
        order = [title.split(":")[0] for title, _ in sorted(_nodes(svg).items(), key=lambda item: item[1][1])]
        assert order == ["timer", "thermostat", "valve", "boiler", "pump"]
    ids = [each for svg in (draw_call_map(call_map), *(svg for _, svg in drawn)) for each in ids_in(svg)]
    assert len(ids) == len(set(ids))


def test_many_that_one_control_acts_on_stand_in_rows_on_a_phone() -> None:
    loops = [
        CallNode(id=f"loop-{number}", words=f"Living room actuator {number}", kind="valve")
        for number in range(8)
    ]
    nodes = (CallNode(id="hub", words="Underfloor controller", kind="controller"), *loops)
    edges = tuple(CallEdge(start="hub", end=loop.id) for loop in loops)
    part = CallPart(
        id="living",
        words="Living room",
        nodes=frozenset(node.id for node in nodes),
        edges=frozenset((edge.start, edge.end) for edge in edges),
    )
    ((_, svg),) = draw_call_parts(CallMap(prefix="c", title="t", nodes=nodes, edges=edges, parts=(part,)))
    # Common practice, no source: a phone shrinks it to 344 px, and its words can still be read.
    assert float(ElementTree.fromstring(svg).get("width", "")) <= 410  # noqa: S314 - our own output
    boxes = list(_nodes(svg).values())
    for index, (left, middle, right) in enumerate(boxes):
        for other_left, other_middle, other_right in boxes[:index]:
            assert right < other_left or other_right < left or abs(middle - other_middle) > 60
