"""Houses written the short way, one for every arrangement and for each option that changes its wiring."""

from collections.abc import Mapping

HEAD = """\
format: 1
property:
  reference: XX-1
  address: {lines: [1 Any Row], town: Embermere}
  nation: england
  fuel: gas
  dwelling: {storeys: 2, floor_area_m2: 74, year: 1911}
sure: {how: seen, on: 2026-03-17, by: heating engineer}
"""
ZONE_PUMPS = """\
format: 1
property:
  reference: EX-0003
  address: { lines: [3 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 82 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }

arrangement:
  name: header-with-zone-pumps
  zones:
    down: { serves: heating }
    up: { serves: heating }
"""
"""Two zones, each with a pump of its own behind a header."""
HALL_AND_BEDS = (
    "name: two-port",
    "boiler: overrun",
    "cylinder: vented",
    "zones: {hall: {serves: heating}, beds: {serves: heating}, hot-water: {serves: hot water}}",
)
_BOTH = "zones: {heating: {serves: heating}, hot-water: {serves: hot water}}"
_CLOCKED = "zones: {heating: {serves: heating, thermostat: programmable-room-thermostat}, hot-water: {serves: hot water}}"
_FLOORS = "zones: {down: {serves: heating, loops: 2}, up: {serves: heating, thermostat: programmable-room-thermostat}}"
_MIXED = "zones: {down: {serves: heating, emitter: underfloor}, up: {serves: heating}, hot-water: {serves: hot water}}"

ARRANGEMENTS: Mapping[str, tuple[str, ...]] = {
    "two-port": ("name: two-port", _BOTH, "cylinder: vented"),
    "two-port, orange fed, unvented": (
        "name: two-port",
        _BOTH,
        "cylinder: unvented",
        "cut_out: wired",
        "fed_core: OG",
        "boiler: overrun",
    ),
    "mid-position": ("name: mid-position", _BOTH, "cylinder: vented"),
    "mid-position, unvented": ("name: mid-position", _BOTH, "cylinder: unvented", "cut_out: wired"),
    "mid-position, clock on the wall": ("name: mid-position", _CLOCKED, "boiler: overrun"),
    "diverter": ("name: diverter", _BOTH, "cylinder: vented"),
    "diverter, unvented": (
        "name: diverter",
        _BOTH,
        "cylinder: unvented",
        "cut_out: wired",
        "boiler: overrun",
    ),
    "diverter, clock on the wall": ("name: diverter", _CLOCKED, "boiler: switched live only"),
    "gravity-hot-water": ("name: gravity-hot-water", _BOTH, "cylinder: vented"),
    "gravity-hot-water-with-valve": ("name: gravity-hot-water-with-valve", _BOTH, "cylinder: vented"),
    "gravity-hot-water-with-valve, clock on the wall": ("name: gravity-hot-water-with-valve", _CLOCKED),
    "combination": (
        "name: combination",
        "zones: {down: {serves: heating}, up: {serves: heating, thermostat: wireless-receiver}}",
    ),
    "combination, volt-free": (
        "name: combination",
        "zones: {down: {serves: heating}, up: {serves: heating, thermostat: programmable-room-thermostat}}",
        "call: volt-free",
        "boiler: overrun",
    ),
    "underfloor": ("name: underfloor", _FLOORS),
    "underfloor, volt-free": ("name: underfloor", _FLOORS, "call: volt-free"),
    "underfloor, volt-free, unvented": (
        "name: underfloor",
        _BOTH,
        "call: volt-free",
        "cylinder: unvented",
        "cut_out: wired",
    ),
    "underfloor-and-radiators": ("name: underfloor-and-radiators", _MIXED, "cylinder: vented"),
    "underfloor-and-radiators, overrun": (
        "name: underfloor-and-radiators",
        _MIXED,
        "cylinder: unvented",
        "cut_out: wired",
        "boiler: overrun",
    ),
    "header-with-zone-pumps": ("name: header-with-zone-pumps", _BOTH, "cylinder: vented"),
    "header-with-zone-pumps, volt-free, unvented": (
        "name: header-with-zone-pumps",
        _BOTH,
        "cylinder: unvented",
        "cut_out: wired",
        "call: volt-free",
    ),
    "thermal-store": (
        "name: thermal-store",
        "zones: {store: {serves: hot water}, rooms: {serves: heating}}",
        "boiler: overrun",
    ),
}
"""The lines of each section `arrangement`; the arrangement's name comes first, options after a comma."""


def arrangement_text(lines: tuple[str, ...]) -> str:
    """A section `arrangement` of these lines."""
    return "".join(["arrangement:\n", *(f"  {line}\n" for line in lines)])


def short_house(name: str) -> str:
    """The record of a house of that name; an unvented cylinder's relief valve has been seen."""
    lines = ARRANGEMENTS[name]
    seen = "devices:\n  cylinder: {settings: {relief_valve: seen}}\n" if "cylinder: unvented" in lines else ""
    return HEAD + arrangement_text(lines) + seen


def hall_and_beds(more: str = "", *, room: bool = False) -> str:
    """The record of a house with two heating zones and a vented cylinder, every zone on a two-port valve.

    Args:
        more: Further devices, and the sections after them.
        room: Whether the centre has a terminal more than it needs, ``M``.
    """
    terminals = "A, B, C, D, E, F, G, H, J, K, L, M"
    centre = f"  centre: {{settings: {{terminals: [{terminals}]}}}}\n" if room else ""
    given = f"devices:\n  hot-water-thermostat: {{settings: {{set_c: 60}}}}\n{centre}"
    return HEAD + arrangement_text(HALL_AND_BEDS) + given + more
