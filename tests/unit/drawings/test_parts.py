"""The part of a drawing that a phone shows for one zone, and what the form does with it."""

from dataclasses import replace

import pytest

from generator.drawings.part import list_groups, split_sheets, take_zone
from generator.drawings.sizes import PHONE_PX
from generator.drawings.terminal_layout import layout_terminal_drawing
from generator.drawings.terminal_model import Box, Core, Link, Pin
from tests.unit.drawings.houses import build_house


def test_a_zone_brings_its_timer_channel_but_not_the_boiler() -> None:
    part = take_zone(build_house(4), "hall")
    assert [box.id for box in part.devices] == ["programmer", "hall-stat", "hall-valve"]
    assert [pin.id for pin in part.devices[0].pins] == ["L", "N", "On 1"]


def test_what_is_left_out_is_marked() -> None:
    part = take_zone(build_house(4), "bedrooms")
    programmer = part.devices[0]
    assert [(pin.id, pin.gap_before) for pin in programmer.pins] == [
        ("L", False),
        ("N", False),
        ("On 2", True),
    ]
    assert programmer.gap_after
    cells = {cell.id: cell.gap_before for cell in part.strips[0].cells}
    assert cells == {
        "Bedrooms on": True,
        "Bedrooms call": False,
        "Boiler call": True,
        "Earth": True,
        "Neutral": False,
        "Live": False,
    }
    assert not part.strips[0].gap_after


def test_a_zone_alone_brings_what_meets_it_but_not_what_shares_its_neutral() -> None:
    part = take_zone(build_house(1), "hot-water")
    assert [box.id for box in part.devices] == [
        "programmer",
        "hot-water-stat",
        "hot-water-valve",
        "boiler",
    ]
    words = {cell.id: cell.words for cell in part.strips[0].cells}
    assert words["Boiler call"] == "Boiler call"
    assert words["Neutral"] == "Neutral (+2)"


def test_the_shared_devices_are_a_part_of_their_own() -> None:
    drawing = build_house(3)
    assert list_groups(drawing) == ("hall", "bedrooms", "hot-water", "")
    part = take_zone(drawing, "")
    assert [box.id for box in part.devices] == ["programmer", "boiler", "pump", "spur"]
    assert all(box in drawing.devices for box in part.devices)


def test_a_direct_core_brings_the_other_device() -> None:
    drawing = build_house(3)
    direct = Core(id="direct", code="BK", from_pin=("hall-stat", "Call"), to=("boiler", "Sw L"))
    part = take_zone(replace(drawing, cores=(*drawing.cores, direct)), "hall")
    boiler = next(box for box in part.devices if box.id == "boiler")
    assert "Sw L" in [pin.id for pin in boiler.pins]
    assert direct in part.cores


def test_a_link_is_shown_whole() -> None:
    drawing = build_house(3)
    strip = replace(drawing.strips[0], links=(Link(id="x", cells=("Hall call", "Pump")),))
    part = take_zone(replace(drawing, strips=(strip,)), "hall")
    assert "Pump" in [cell.id for cell in part.strips[0].cells]
    assert part.strips[0].links == strip.links


def test_a_flex_whose_cores_are_sorted_has_one_mark_at_its_end() -> None:
    drawing = build_house(3)
    boxes = tuple(replace(box, ordered=box.id != "programmer") for box in drawing.devices)
    programmer = take_zone(replace(drawing, devices=boxes), "hall").devices[0]
    assert not any(pin.gap_before for pin in programmer.pins)
    assert programmer.gap_after


@pytest.mark.parametrize("zones", [2, 3, 4, 6, 8])
def test_a_zone_fits_a_phone(zones: int) -> None:
    # Common practice, no source: the narrowest telephones in use show 360 px, less the margins of a page.
    drawing = build_house(zones)
    for group in list_groups(drawing)[:-1]:
        layout = layout_terminal_drawing(drawing, form="phone", group=group)
        assert layout.width <= PHONE_PX == 302
        assert {box.side for box in layout.boxes} == {"right"}


def test_few_zones_are_not_split() -> None:
    drawing = build_house(4)
    assert split_sheets(drawing) == (drawing,)


def test_printed_order_is_kept_and_a_flex_is_sorted_by_terminal() -> None:
    drawing = build_house(2)
    pins = (Pin(id="c", label="c"), Pin(id="a", label="a"), Pin(id="b", label="b"))
    cells = drawing.strips[0].cells
    ends = {"c": cells[5].id, "a": cells[0].id, "b": cells[3].id}
    cores = tuple(
        Core(id=pin, code="BN", from_pin=("new", pin), to=("centre", cell)) for pin, cell in ends.items()
    )
    for ordered, wanted in ((True, ["c", "a", "b"]), (False, ["a", "b", "c"])):
        box = Box(id="new", name="New", pins=pins, ordered=ordered)
        changed = replace(drawing, devices=(*drawing.devices, box), cores=(*drawing.cores, *cores))
        layout = layout_terminal_drawing(changed, form="desktop")
        placed = next(each for each in layout.boxes if each.box.id == "new")
        assert [pin.pin.id for pin in placed.pins] == wanted
