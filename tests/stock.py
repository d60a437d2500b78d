"""The circuits that tests of many circuits run over: the demo stock, and two-port houses made for tests.

Terminal letters of the wiring centres are our own: controls first, supply last.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache
from string import ascii_uppercase
from typing import Any

from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.record.load import load_record
from tests.circuits import Wire, house
from tests.tools.paths import PROPERTIES


@cache
def recorded_circuits() -> Mapping[str, Circuit]:
    """The circuit of every record of the demo stock by its reference."""
    circuits = {}
    for file in sorted(PROPERTIES.glob("*.yaml")):
        loaded = load_record(file)
        assert loaded.record is not None, f"{file.name} cannot be read"
        built = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places)
        findings = [*loaded.findings, *built.findings]
        assert not findings, "\n".join(finding.message for finding in findings)
        circuits[file.stem] = built.circuit
    return circuits


@cache
def demo_circuits() -> Mapping[str, Circuit]:
    """Circuits by name; every one is held against the second method."""
    return {
        "hot water and heating": two_port({"hot-water": "hot water", "heating": "heating"}),
        "orange fed": two_port({"hot-water": "hot water", "heating": "heating"}, fed_core="OG"),
        "three zones and hot water": two_port(
            {"ground": "heating", "first": "heating", "loft": "heating", "hot-water": "hot water"}
        ),
        "overrun boiler": two_port({"hot-water": "hot water", "heating": "heating"}, overrun=True),
        "boiler called by a relay": two_port({"ground": "heating", "first": "heating"}, relay=True),
        "twelve zones and hot water": two_port(
            {"hot-water": "hot water", **dict.fromkeys(_TWELVE, "heating")}, clocks=_TWELVE
        ),
        **recorded_circuits(),
    }


_TWELVE = tuple(f"room-{number}" for number in range(1, 13))


@dataclass(frozen=True, slots=True)
class _Centre:
    """Gives out the terminals of a wiring centre in order."""

    letters: dict[str, str]

    def __getitem__(self, use: str) -> str:
        letter = self.letters.setdefault(use, ascii_uppercase[len(self.letters)])
        return f"centre.{letter}"


def two_port(
    serves: Mapping[str, str],
    *,
    fed_core: str = "GY",
    overrun: bool = False,
    relay: bool = False,
    clocks: Collection[str] = (),
    valve: Mapping[str, Any] | None = None,
) -> Circuit:
    """A two-port system: zone name -> ``heating`` or ``hot water``, one programmer channel a zone, in order.

    Args:
        serves: the zones.
        fed_core: GY or OG, the core of each end switch that takes the permanent live.
        overrun: the pump hangs on the boiler's own output.
        relay: the end switches pull in a relay, and its contact calls the boiler.
        clocks: zones whose thermostat has a clock of its own, so that they take no channel.
        valve: settings of every valve.
    """
    at = _Centre({})
    devices: dict[str, str | tuple[str, Mapping[str, Any]]] = {
        "spur": "fused-spur",
        "programmer": ("programmer", {"channels": len(serves) - len(clocks)}),
    }
    wires: list[Wire] = []
    commons: list[tuple[str, str]] = []
    zones: dict[str, dict[str, Any]] = {}
    cables: dict[str, Mapping[str, Any]] = {
        "spur": {"size_mm2": 1.5, "length_m": 2.5, "type": "flat cable"},
        "programmer": {"size_mm2": 1.0, "length_m": 9.0},
        "boiler": {"size_mm2": 0.75, "length_m": 6.0, "type": "heat-resisting cord"},
    }
    other_core = "OG" if fed_core == "GY" else "GY"
    channel = 0
    for zone, use in serves.items():
        stat, motor = f"{zone}-thermostat", f"{zone}-valve"
        zones[zone] = {"serves": use, "thermostat": stat, "valve": motor}
        devices[stat] = "room-thermostat" if use == "heating" else "cylinder-thermostat"
        devices[motor] = ("two-port-valve", valve or {})
        if zone in clocks:
            devices[stat] = "programmable-room-thermostat"
            common = "live"
        else:
            channel += 1
            common = f"{zone} timed"
            zones[zone] |= {"channel": f"programmer.{channel}"}
            wires.append((f"programmer.on-{channel}", at[common], f"BK{channel}", "programmer"))
        call = at[f"{zone} call"]
        sides = {"GY": f"{motor}.switch-a", "OG": f"{motor}.switch-b"}
        wires += [
            (f"{stat}.call", call, "BK"),
            (f"{motor}.motor", call, "BN"),
            (sides[other_core], at["called"], other_core),
        ]
        commons.append((stat, common))
        cables[stat] = {"size_mm2": 1.0, "length_m": 11.0 + len(zones)}
        cables[motor] = {"size_mm2": 0.75, "length_m": 1.5}
    boiler_call = at["boiler call"] if relay else at["called"]
    devices["boiler"] = ("boiler", {"overrun": overrun, "pump_output": overrun})
    devices["pump"] = "pump"
    wires += [
        ("boiler.call", boiler_call, "BK"),
        ("pump.L", "boiler.pump", "BN") if overrun else ("pump.L", boiler_call, "BN"),
    ]
    if relay:
        devices["relay"] = "relay"
        wires += [
            ("relay.A1", at["called"], "RD"),
            ("relay.14", boiler_call, "OG"),
            ("relay.11", at["live"], "BN"),
            ("relay.A2", at["neutral"], "BU"),
        ]
    live, neutral, earth = at["live"], at["neutral"], at["earth"]
    wires += [
        *((f"{stat}.common", at[use], "BN") for stat, use in commons),
        ("spur.L", live, "BN"),
        ("programmer.L", live, "BN"),
        ("boiler.L", live, "BN"),
        *((f"{zone}-valve.switch-{'a' if fed_core == 'GY' else 'b'}", live, fed_core) for zone in serves),
    ]
    for device in ("spur", "programmer", *(f"{zone}-valve" for zone in serves), "boiler", "pump"):
        wires.append((f"{device}.N", neutral, "BU"))
        if device != "programmer":
            wires.append((f"{device}.E", earth, "GNYE"))
    devices["centre"] = ("wiring-centre", {"terminals": tuple(ascii_uppercase[: len(at.letters)])})
    return house(
        devices=devices,
        conductors=wires,
        zones=zones,
        cables=cables,
        water={
            "circuits": {
                zone: {
                    "valve": f"{zone}-valve",
                    "feeds": "radiators" if use == "heating" else "cylinder coil",
                }
                for zone, use in serves.items()
            }
        },
    )
