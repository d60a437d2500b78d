"""The control states that pages show, chosen and named by what is calling.

Knows the zones that are intended and the inputs of the circuit; asks no solver.
"""

from dataclasses import dataclass

from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit, ZoneIntent


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownState:
    """One state of the selector.

    ``id`` is the same for houses alike but for names. ``short`` fits a button, ``words`` is a sentence
    part after "while". ``on`` are the inputs that are on, all others being off. ``zones`` are those that call.
    """

    id: str
    short: str
    words: str
    on: tuple[str, ...]
    zones: tuple[str, ...]


def shown_states(circuit: Circuit) -> tuple[ShownState, ...]:
    """Rest; timers on with nothing calling; each zone alone; all zones together."""
    zones = tuple(zone for zone in circuit.zones if zone.call_inputs)
    states = [ShownState(id="rest", short="Nothing calls", words="nothing calls", on=(), zones=())]
    channels = tuple(item.name for item in circuit.called_inputs if item.kind is InputKind.CHANNEL)
    if channels:
        states.append(
            ShownState(
                id="timers",
                short="Timers on, all satisfied",
                words="every timer channel is on and every thermostat is satisfied",
                on=channels,
                zones=(),
            )
        )
    for number, zone in enumerate(zones, start=1):
        states.append(
            ShownState(
                id=f"zone-{number}",
                short=f"{zone.words} calls",
                words=f"only {_lower(zone)} calls",
                on=zone.call_inputs,
                zones=(zone.name,),
            )
        )
    if len(zones) > 1:
        together = tuple(dict.fromkeys(name for zone in zones for name in zone.call_inputs))
        states.append(
            ShownState(
                id="all",
                short="Everything calls",
                words="every zone calls",
                on=together,
                zones=tuple(zone.name for zone in zones),
            )
        )
    return tuple(states)


def _lower(zone: ZoneIntent) -> str:
    return zone.words[:1].lower() + zone.words[1:]
