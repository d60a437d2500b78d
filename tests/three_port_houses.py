"""A house with a three-port mid-position valve for tests of drawings and timelines; terminal letters are our own."""

from functools import cache

from generator.circuit.model import Circuit
from tests.circuits import Wire, house


@cache
def mid_position(*, hold_ohm: float = 1000.0) -> Circuit:
    """Heating and hot water on one mid-position valve, a programmer with a hot-water-off terminal, boiler, pump.

    Args:
        hold_ohm: the resistor in series with the valve's diode.
    """
    wires: list[Wire] = [
        ("spur.L", "centre.J", "BN"),
        ("spur.N", "centre.H", "BU"),
        ("spur.E", "centre.K", "GNYE"),
        ("programmer.L", "centre.J", "BN"),
        ("programmer.N", "centre.H", "BU"),
        ("programmer.on-1", "centre.F", "BK"),
        ("programmer.off-1", "centre.E", "GY"),
        ("programmer.on-2", "centre.A", "OG"),
        ("room.common", "centre.A", "BN"),
        ("room.call", "centre.B", "BK"),
        ("tank.common", "centre.F", "BN"),
        ("tank.call", "centre.D", "BK"),
        ("tank.satisfied", "centre.E", "GY"),
        ("valve.heat", "centre.B", "WH"),
        ("valve.water-off", "centre.E", "GY"),
        ("valve.out", "centre.D", "OG"),
        ("valve.N", "centre.H", "BU"),
        ("valve.E", "centre.K", "GNYE"),
        ("boiler.L", "centre.J", "BN"),
        ("boiler.call", "centre.D", "BK"),
        ("boiler.N", "centre.H", "BU"),
        ("boiler.E", "centre.K", "GNYE"),
        ("pump.L", "centre.D", "BN"),
        ("pump.N", "centre.H", "BU"),
        ("pump.E", "centre.K", "GNYE"),
    ]
    return house(
        devices={
            "spur": "fused-spur",
            "centre": ("wiring-centre", {"terminals": tuple("ABDEFHJK")}),
            "programmer": ("programmer", {"channels": 2, "off_terminals": (1,)}),
            "room": "room-thermostat",
            "tank": "cylinder-thermostat",
            "valve": ("three-port-mid-position-valve", {"hold_ohm": hold_ohm}),
            "boiler": "boiler",
            "pump": "pump",
        },
        conductors=wires,
        zones={
            "hot-water": {
                "serves": "hot water",
                "channel": "programmer.1",
                "thermostat": "tank",
                "valve": "valve",
            },
            "heating": {
                "serves": "heating",
                "channel": "programmer.2",
                "thermostat": "room",
                "valve": "valve",
            },
        },
        water={
            "circuits": {
                "hot-water": {"valve": "valve", "feeds": "cylinder coil"},
                "heating": {"valve": "valve", "feeds": "radiators"},
            },
            "pump": "on the flow",
            "bypass": "fixed",
        },
    )
