"""The branches of the water of a few plumbings, each written out by hand."""

from collections.abc import Mapping
from typing import Any

import pytest

from generator.states.water_graph import water_branches
from tests.circuits import Kinds, house

UP: Mapping[str, Any] = {"valve": "up-valve", "feeds": "radiators"}
OWN: Mapping[str, Any] = {"pump": "own", "feeds": "radiators", "check_valve": True}
COIL: Mapping[str, Any] = {"feeds": "cylinder coil", "gravity": True}
MAIN: Kinds = {"boiler": "boiler", "main": "pump"}
INSIDE: Kinds = {"boiler": ("boiler", {"pump_inside": True})}
BOTH: Kinds = {**INSIDE, "main": "pump"}

BOILER = "boiler: return to outlet"
UP_LINE = "up: flow to return, opened by up-valve.open"


@pytest.mark.parametrize(
    ("devices", "circuits", "water", "lines"),
    [
        (MAIN, {"up": UP}, {}, [BOILER, "pump: outlet to flow, main.motor", UP_LINE]),
        (
            MAIN,
            {"up": UP, "coil": COIL},
            {"bypass": "fixed"},
            [
                BOILER,
                "pump: outlet to flow, main.motor",
                "bypass: flow to return",
                "boiler by gravity: boiler gravity return to boiler gravity flow",
                UP_LINE,
                "coil: boiler gravity flow to boiler gravity return",
            ],
        ),
        # A header: what drives circuits without a pump of their own stands behind it.
        (
            BOTH,
            {"up": UP},
            {"header": "buffer", "bypass": "fixed"},
            [
                BOILER,
                "pump: outlet to flow, boiler.pump",
                "buffer: flow to return",
                "header pump: flow to header flow, main.motor",
                "bypass: header flow to return",
                "up: header flow to return, opened by up-valve.open",
            ],
        ),
        # No pump to stand there: the boiler's own moves its water alone.
        (
            INSIDE,
            {"up": UP},
            {"header": "low-loss"},
            [BOILER, "pump: outlet to flow, boiler.pump", "low-loss: flow to return", UP_LINE],
        ),
        # Nothing that needs one: a circuit with a pump, one that falls by itself, one of another source.
        (
            BOTH,
            {"up": OWN, "coil": COIL, "other": {**UP, "source": "stove"}},
            {"header": "low-loss", "sources": {"stove": {"of": "solid fuel"}}},
            [
                BOILER,
                "pump: outlet to flow, boiler.pump main.motor",
                "low-loss: flow to return",
                "boiler by gravity: boiler gravity return to boiler gravity flow",
                "up: flow to return, own.motor, checked",
                "coil: boiler gravity flow to boiler gravity return",
                "stove: stove return to stove outlet",
                "stove pump: stove outlet to stove flow",
                "other: stove flow to stove return, opened by up-valve.open",
            ],
        ),
    ],
)
def test_branches(
    devices: Kinds, circuits: Mapping[str, Any], water: Mapping[str, Any], lines: list[str]
) -> None:
    own: Kinds = {"own": "pump"} if OWN in circuits.values() else {}
    circuit = house(
        devices={**devices, **own, "up-valve": "two-port-valve"},
        water={"pump": "on the flow", "bypass": "none", **water, "circuits": circuits},
    )
    written = []
    for branch in water_branches(circuit):
        line = f"{branch.name}: {branch.start} to {branch.end}"
        line += f", {' '.join(branch.pumps)}" if branch.pumps else ""
        line += f", opened by {branch.opens}" if branch.opens else ""
        written.append(f"{line}, checked" if branch.checked else line)
    assert written == lines
