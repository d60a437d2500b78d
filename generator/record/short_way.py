"""The short way: expands an arrangement by name into devices, wiring, zones and water circuits.

What it gives is a document like any written one; nothing after this looks at the arrangement's name.
Terminals are lettered by what they are for, the supply last.
"""

from collections.abc import Callable, Mapping
from typing import Any

from generator.record.places import Document, Mark, Path, Places
from generator.record.short_draft import Draft
from generator.record.short_gravity import gravity, gravity_with_valve
from generator.record.short_model import Arrangement
from generator.record.short_pumps import header, thermal_store
from generator.record.short_three_port import diverter, mid_position
from generator.record.short_two_port import combination, two_port
from generator.record.short_underfloor import underfloor

_ARRANGEMENTS: Mapping[str, Callable[[Draft], None]] = {
    "two-port": two_port,
    "mid-position": mid_position,
    "diverter": diverter,
    "gravity-hot-water": gravity,
    "gravity-hot-water-with-valve": gravity_with_valve,
    "combination": combination,
    "underfloor": underfloor,
    "underfloor-and-radiators": underfloor,
    "header-with-zone-pumps": header,
    "thermal-store": thermal_store,
}


def expand(arrangement: Arrangement, mark: Mark, zone_marks: Mapping[str, Mark]) -> Document:
    """The document an arrangement stands for.

    Args:
        arrangement: the checked section.
        mark: where it is written; every value made carries it, or its zone's mark.
        zone_marks: where each zone of it is written.
    """
    draft = Draft(arrangement)
    _ARRANGEMENTS[arrangement.name](draft)
    data = draft.finish()
    return Document(data=data, places=_places(data, mark, zone_marks, draft.of_zone))


def _places(
    data: dict[str, Any], mark: Mark, zone_marks: Mapping[str, Mark], of_zone: Mapping[str, str]
) -> Places:
    """Marks for every path of the made document: the zone's where it belongs to one."""
    marks: dict[Path, Mark] = {}

    def walk(value: Any, path: Path, here: Mark) -> None:
        marks[path] = here
        if isinstance(value, dict):
            end = value.get("to") or (value.get("ends") or ("",))[0]
            if isinstance(end, str) and end:
                here = _zone_mark(end.split(".", 1)[0], here, zone_marks, of_zone)
                marks[path] = here
            for key, inner in value.items():
                walk(inner, (*path, key), _zone_mark(key, here, zone_marks, of_zone))
        elif isinstance(value, list):
            for index, inner in enumerate(value):
                walk(inner, (*path, index), here)

    walk(data, (), mark)
    return Places(marks, marks)


def _zone_mark(name: str, here: Mark, zone_marks: Mapping[str, Mark], of_zone: Mapping[str, str]) -> Mark:
    return zone_marks.get(of_zone.get(name, name), here)
