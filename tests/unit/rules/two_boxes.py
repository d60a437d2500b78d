"""A small house with two wiring centres joined by a riser, that tests on where cores land share."""

from generator.circuit.model import Circuit
from tests.circuits import Kinds, Wire, house

DEVICES: Kinds = {
    "spur": "fused-spur",
    "down": ("wiring-centre", {"terminals": ["A", "B", "C", "E", "L", "N"]}),
    "up": ("wiring-centre", {"terminals": ["1", "2", "3", "4", "5"]}),
    "stat": ("room-thermostat", {"wires": 3}),
    "valve": "two-port-valve",
    "boiler": "boiler",
}
WIRES: tuple[Wire, ...] = (
    ("spur.L", "down.L", "BN"),
    ("spur.N", "down.N", "BU"),
    ("spur.E", "down.E", "GNYE"),
    ("down.L", "up.3", "BN", "riser"),
    ("down.N", "up.4", "BU", "riser"),
    ("down.A", "up.1", "BK", "riser"),
    ("stat.common", "up.3", "BN"),
    ("stat.call", "up.1", "BK"),
    ("stat.N", "up.4", "BU"),
    ("valve.motor", "down.A", "BN"),
    ("valve.N", "down.N", "BU"),
    ("valve.E", "down.E", "GNYE"),
    ("valve.switch-a", "down.L", "GY"),
    ("valve.switch-b", "down.B", "OG"),
    ("boiler.call", "down.B", "BK"),
    ("boiler.L", "down.L", "BN"),
    ("boiler.N", "down.N", "BU"),
    ("boiler.E", "down.E", "GNYE"),
)
"""Downstairs: A heating calls, B boiler called, C empty. Upstairs: 1 heating calls, 2 and 5 empty, 3 line, 4 neutral."""


def two_boxes(*changes: tuple[Wire, Wire | None], links: tuple[tuple[str, str], ...] = ()) -> Circuit:
    """The house, with some conductors put otherwise, or taken out where there is none instead."""
    instead = dict(changes)
    assert set(instead) <= set(WIRES)
    wires = [instead.get(wire, wire) for wire in WIRES]
    return house(
        devices=DEVICES,
        conductors=[wire for wire in wires if wire is not None],
        links=links,
        zones={"flat": {"serves": "heating", "thermostat": "stat", "valve": "valve"}},
    )
