"""Where water goes in every state of pumps, valves and boiler, told again state by state from how each plumbing works.

Pumps, valves and sources are on and off as we please here, whatever wiring could do. Common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import pytest

from generator.circuit.model import Circuit, WaterCircuit
from generator.states.answer import Answer, Solution
from generator.states.solve import solve
from generator.states.space import StateSpace
from generator.states.water import CircuitFlow, WaterAnswer, water_answer
from tests.circuits import Kinds, house

MAIN = "main.motor"
INSIDE = "boiler.pump"
COILS = ("cylinder coil", "thermal store", "heat exchanger")


@dataclass(frozen=True, kw_only=True)
class Plumbing:
    """Water circuits as in a record, and what a plumber would say of them.

    ``main`` are the pumps that drive every circuit without a pump of its own, ``before`` those that only move the
    boiler's water through the header, ``of_source`` those of other sources.
    """

    circuits: Mapping[str, Mapping[str, Any]]
    main: Sequence[str] = (MAIN,)
    before: Sequence[str] = ()
    of_source: Mapping[str, Sequence[str]]
    devices: Kinds
    water: Mapping[str, Any]

    def circuit(self) -> Circuit:
        devices: dict[str, Any] = {"boiler": "boiler", **self.devices}
        for item in self.circuits.values():
            if "valve" in item:
                devices[item["valve"]] = "two-port-valve"
            if "pump" in item:
                devices[item["pump"]] = "pump"
        return house(devices=devices, water={"circuits": self.circuits, **self.water})


def plumbing(
    main: Sequence[str] = (MAIN,),
    *,
    before: Sequence[str] = (),
    of_source: Mapping[str, Sequence[str]] | None = None,
    devices: Kinds | None = None,
    water: Mapping[str, Any] | None = None,
    **circuits: Mapping[str, Any],
) -> Plumbing:
    return Plumbing(
        circuits=circuits,
        main=main,
        before=before,
        of_source=of_source or {},
        devices={"main": "pump"} if devices is None else devices,
        water={"pump": "on the flow", "bypass": "none", **(water or {})},
    )


UP = {"valve": "up-valve", "feeds": "radiators"}
DOWN = {"valve": "down-valve", "feeds": "radiators"}
COIL = {"valve": "coil-valve", "feeds": "cylinder coil"}
OWN_UP = {"pump": "up-pump", "feeds": "radiators"}
OWN_DOWN = {"pump": "down-pump", "feeds": "radiators"}
BYPASS: Kinds = {"main": "pump", "bypass": "automatic-bypass"}
PUMP_INSIDE: Kinds = {"boiler": ("boiler", {"pump_inside": True})}

PLUMBINGS = {
    "two circuits": plumbing(up=UP, down=DOWN),
    "one is always open": plumbing(up=UP, rail={"feeds": "towel rail"}),
    "an automatic bypass": plumbing(up=UP, down=DOWN, devices=BYPASS, water={"bypass": "bypass"}),
    "a hand-set bypass": plumbing(up=UP, down=DOWN, water={"bypass": "fixed"}),
    "a bypass in the boiler": plumbing(up=UP, water={"bypass": "in the boiler"}),
    "nobody saw a bypass": plumbing(up=UP, water={"bypass": "not seen"}),
    "a pump on each": plumbing((), up=OWN_UP, down=OWN_DOWN, devices={}, water={"pump": "none"}),
    "a pump on each, valves too": plumbing(
        (), up={**OWN_UP, **UP}, down={**OWN_DOWN, **DOWN}, devices={}, water={"pump": "none"}
    ),
    "a pump on each, one checked": plumbing(
        (), up={**OWN_UP, "check_valve": True}, down=OWN_DOWN, devices={}, water={"pump": "none"}
    ),
    "two on one pump of their own": plumbing(
        (),
        up={**OWN_UP, **UP},
        down={**OWN_UP, **DOWN},
        coil={**COIL, "pump": "coil-pump"},
        devices={},
        water={"pump": "none", "bypass": "fixed"},
    ),
    "one on a pump of its own besides the main one": plumbing(up=UP, down=OWN_DOWN),
    "a gravity coil": plumbing(up=UP, coil={"feeds": "cylinder coil", "gravity": True}),
    "a gravity coil with a valve": plumbing(up=UP, coil={**COIL, "gravity": True}),
    "a coil that falls and has a pump": plumbing(up=UP, coil={**COIL, "gravity": True, "pump": "coil-pump"}),
    "a pump that no record shows": plumbing(
        (), up=UP, down=DOWN, devices={}, water={"pump": "in the boiler"}
    ),
    "nobody saw the pump": plumbing((), up=UP, devices={}, water={"pump": "not seen", "bypass": "fixed"}),
    "no pump at all": plumbing((), up=UP, devices={}, water={"pump": "none"}),
    "the pump inside the boiler": plumbing((INSIDE,), up=UP, down=DOWN, devices=PUMP_INSIDE),
    "a header, a pump inside and one on each": plumbing(
        (),
        before=(INSIDE,),
        up=OWN_UP,
        down={**OWN_DOWN, **DOWN},
        devices=PUMP_INSIDE,
        water={"header": "low-loss"},
    ),
    "a header, one pump for all behind it": plumbing(
        before=(INSIDE,),
        up=UP,
        down=DOWN,
        devices={**PUMP_INSIDE, "main": "pump"},
        water={"header": "buffer"},
    ),
    "a header, one for some behind it": plumbing(
        before=(INSIDE,),
        up=UP,
        down=OWN_DOWN,
        devices={**PUMP_INSIDE, "main": "pump"},
        water={"header": "low-loss", "bypass": "fixed"},
    ),
    "a header and a pump outside before it": plumbing(
        (), before=(MAIN,), up=OWN_UP, down=OWN_DOWN, water={"header": "low-loss"}
    ),
    "a blending set beside the main pump": plumbing(
        up=UP, down=DOWN, devices={"main": "pump", "mix": "blending-set"}
    ),
    "no pump but that of a blending set": plumbing(
        ("mix.motor",), up=UP, down=DOWN, devices={"mix": "blending-set"}
    ),
    "a header, a gravity coil and a source behind it": plumbing(
        (),
        before=(MAIN,),
        of_source={"other": ("second.pump",)},
        up=OWN_UP,
        coil={"feeds": "cylinder coil", "gravity": True},
        down={**DOWN, "source": "other"},
        devices={"main": "pump", "second": ("boiler", {"pump_inside": True})},
        water={"header": "low-loss", "sources": {"other": {"of": "boiler", "device": "second"}}},
    ),
    "a stove": plumbing(
        up=UP,
        stove={"feeds": "cylinder coil", "gravity": True, "source": "stove"},
        water={"sources": {"stove": {"of": "solid fuel"}}},
    ),
    "the sun": plumbing(
        up=UP,
        panel={"feeds": "cylinder coil", "source": "panel"},
        of_source={"panel": ("sun-pump.motor",)},
        devices={"main": "pump", "sun-pump": "pump"},
        water={"sources": {"panel": {"of": "solar", "pump": "sun-pump"}}},
    ),
    "a second boiler": plumbing(
        up=UP,
        down={**DOWN, "source": "other"},
        of_source={"other": ("second.pump",)},
        devices={"main": "pump", "second": ("boiler", {"pump_inside": True})},
        water={"sources": {"other": {"of": "boiler", "device": "second"}}},
    ),
    "a heat network": plumbing(
        up=UP,
        coil={**COIL, "source": "network"},
        of_source={"network": ("network-pump.motor",)},
        devices={"main": "pump", "network-pump": "pump"},
        water={"sources": {"network": {"of": "heat network", "pump": "network-pump"}}},
    ),
}


def solved(name: str) -> tuple[Plumbing, Solution, WaterAnswer]:
    """Every pump, valve and source of a plumbing on and off by itself."""
    plumbing_ = PLUMBINGS[name]
    circuit = plumbing_.circuit()
    solution = solve(circuit)
    free = [load.name for load in circuit.loads if load.kind.value == "pump"]
    free += [part.name for part in circuit.driven if part.name.endswith((".open", ".firing"))]
    space = StateSpace(tuple(free))
    answer = Answer(
        at=space.everywhere,
        joined={},
        line={},
        neutral={},
        earth={},
        fed={load.name: space.where(load.name) if load.name in free else 0 for load in circuit.loads},
        on={part.name: space.where(part.name) if part.name in free else 0 for part in circuit.driven},
        made={},
    )
    solution = replace(solution, space=space, settled=answer)
    return plumbing_, solution, water_answer(solution, answer)


@dataclass(frozen=True)
class State:
    """What is on in one state of a plumbing."""

    plumbing: Plumbing
    circuit: Circuit
    on: frozenset[str]

    def of(self, source: str) -> list[WaterCircuit]:
        return [item for item in self.circuit.water.circuits if item.source == source]

    def header(self, source: str) -> bool:
        """Whether a header parts the water of a source from that of its circuits: the boiler's alone."""
        return self.circuit.water.header != "none" and not source

    def is_open(self, item: WaterCircuit) -> bool:
        return not item.valve or f"{item.valve}.open" in self.on

    def own(self, item: WaterCircuit) -> bool:
        """Whether a pump of its own runs."""
        return bool(item.pump) and f"{item.pump}.motor" in self.on

    def main(self, source: str) -> bool:
        """Whether a pump runs that drives every circuit of a source; one inside the boiler runs while it fires."""
        if source:
            return any(name in self.on for name in self.plumbing.of_source.get(source, ()))
        hidden = not any(load.kind.value == "pump" for load in self.circuit.loads)
        if hidden and self.circuit.water.pump in ("in the boiler", "not seen"):
            return "boiler.firing" in self.on
        return any(name in self.on for name in self.plumbing.main)

    def hot(self, source: str) -> bool:
        found = next((item for item in self.circuit.water.sources if item.name == source), None)
        if found is None:
            return "boiler.firing" in self.on
        if found.of in ("solid fuel", "heat network"):
            return True
        return f"{found.device}.firing" in self.on or (found.of == "solar" and self.main(source))

    def flow(self, item: WaterCircuit) -> tuple[bool, bool, bool]:
        """Whether water goes forward, by itself, or backward."""
        header = self.header(item.source)
        alone = header and bool(item.pump)
        falls = item.gravity and not item.pump
        driven = self.own(item) or (self.main(item.source) and not alone and not falls)
        forward = self.is_open(item) and driven
        by_itself = self.is_open(item) and item.gravity and self.hot(item.source) and not forward
        drawn = not header and not item.check_valve and not falls and self.is_open(item)
        others = any(
            self.own(other) and self.is_open(other) for other in self.of(item.source) if other is not item
        )
        return forward, by_itself, drawn and others and not self.own(item) and not self.main(item.source)

    def stuck(self, source: str) -> tuple[bool, bool]:
        """Whether the main pump has every circuit shut, and whether a circuit's own pump has."""
        header = self.header(source) and not self.plumbing.main
        drawn = [item for item in self.of(source) if item.pump or not item.gravity]
        some = any(self.is_open(item) for item in drawn)
        shut = self.main(source) and bool(self.of(source)) and not some and not header
        own = any(
            self.own(item)
            and not any(self.is_open(other) for other in self.of(source) if other.pump == item.pump)
            for item in self.of(source)
        )
        return shut, own

    def running(self) -> bool:
        pumps = [
            *self.plumbing.before,
            *(name for names in self.plumbing.of_source.values() for name in names),
        ]
        own = any(self.own(item) for item in self.circuit.water.circuits)
        return own or self.main("") or any(name in self.on for name in pumps)


def states(name: str) -> Iterator[tuple[int, State]]:
    plumbing_, solution, _ = solved(name)
    for number in range(solution.space.size):
        on = frozenset(input_ for input_, is_on in solution.space.values(number).items() if is_on)
        yield number, State(plumbing_, solution.circuit, on)


@pytest.mark.parametrize("name", PLUMBINGS)
def test_every_circuit(name: str) -> None:
    _, _, water = solved(name)
    for number, state in states(name):
        for item in state.circuit.water.circuits:
            flow: CircuitFlow = water.flow(item.name)
            ours = tuple(bool(v >> number & 1) for v in (flow.forward, flow.gravity, flow.backward))
            assert ours == state.flow(item), (item.name, state.on)
            assert bool(flow.open >> number & 1) == state.is_open(item)
            assert bool(flow.flows >> number & 1) == any(ours)
            assert bool(flow.hot >> number & 1) == (any(ours) and state.hot(item.source)), (
                item.name,
                state.on,
            )


@pytest.mark.parametrize("name", PLUMBINGS)
def test_the_whole(name: str) -> None:
    _, solution, water = solved(name)
    bypass = solution.circuit.water.bypass not in ("none", "not seen")
    fixed = solution.circuit.water.bypass == "fixed"
    for number, state in states(name):
        found = {
            word: bool(getattr(water, word) >> number & 1)
            for word in ("running", "shut", "dead_head", "bypass", "hot")
        }
        stuck = [state.stuck(source) for source in ("", *state.plumbing.of_source)]
        drawn = [item for item in state.of("") if item.pump or not item.gravity]
        some = any(state.is_open(item) for item in drawn)
        assert found == {
            "running": state.running(),
            "shut": any(shut or own for shut, own in stuck),
            "dead_head": any(
                own or (shut and not (bypass and not place)) for place, (shut, own) in enumerate(stuck)
            ),
            "bypass": bypass and state.main("") and (fixed or not some),
            "hot": state.hot(""),
        }, state.on


def test_a_circuit_that_is_not_there() -> None:
    _, _, water = solved("two circuits")
    assert [flow.circuit.name for flow in water.flows] == ["up", "down"]
    with pytest.raises(KeyError):
        water.flow("loft")
