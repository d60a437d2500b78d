"""The controls that a tenant may move, and why not the others.

Goes by the record: who can reach a device, and how sure its wiring is. It searches nothing.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Control, InputKind
from generator.circuit.model import Circuit, How, PlacedDevice, WaterCircuit
from generator.overrides.model import Move, Reason, Step
from generator.overrides.services import COILS, unvented

_AWAY = ("loft", "attic hatch", "ladder", "roof space", "crawl", "under the floor", "behind the panel")
"""Words of a place that no tenant is sent to, whatever the record says of its reach."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Controls:
    """The steps that may be given, by input, and the reason against every other control that has one.

    ``on`` turns an input on, ``off`` turns it off. ``immersion`` switches the immersion heater on, None where it may not
    be; ``no_immersion`` then says why, None where there is none.
    """

    on: Mapping[str, Step]
    off: Mapping[str, Step]
    against: Mapping[str, Reason]
    supplies: tuple[Step, ...]
    immersion: Step | None
    no_immersion: Reason | None


def tenant_controls(circuit: Circuit) -> Controls:
    """The controls of a house that a tenant may move."""
    on: dict[str, Step] = {}
    off: dict[str, Step] = {}
    against: dict[str, Reason] = {}
    zones = _zones_by_input(circuit)
    for device in circuit.devices:
        for control in device.parts.controls:
            name = control.input
            pair = _moves(device, control)
            if pair is None:
                continue
            reason = why_not(circuit, device)
            if reason is None and device.duty is Duty.VALVE:
                reason = _lever_refused(circuit, device)
            if reason is not None:
                against[name] = reason
                continue
            zone = zones.get(name, "")
            on[name] = Step(
                move=pair[0],
                device=device.name,
                control=control.name.removeprefix(f"{device.name}."),
                input=name,
                to=True,
                zone=zone,
            )
            off[name] = Step(
                move=pair[1],
                device=device.name,
                control=control.name.removeprefix(f"{device.name}."),
                input=name,
                to=False,
                zone=zone,
            )
    immersion, no_immersion = _immersion(circuit, on)
    supplies = tuple(step for step in on.values() if _is_main(circuit, step))
    return Controls(
        on=on,
        off=off,
        against=against,
        supplies=supplies,
        immersion=immersion,
        no_immersion=no_immersion,
    )


def why_not(circuit: Circuit, device: PlacedDevice) -> Reason | None:
    """Why no tenant may move the controls of a device; None where one may."""
    place = device.place.casefold()
    if device.reach != "tenant" or any(word in place for word in _AWAY):
        return Reason.OUT_OF_REACH
    if _assumed(circuit, device):
        return Reason.ASSUMED
    return None


def _assumed(circuit: Circuit, device: PlacedDevice) -> bool:
    if device.certainty.how is How.ASSUMED:
        return True
    own = f"{device.name}."
    return any(
        conductor.assumed and (conductor.a.startswith(own) or conductor.b.startswith(own))
        for conductor in circuit.conductors
    )


def _moves(device: PlacedDevice, control: Control) -> tuple[Move, Move] | None:
    """What turning a control on and off is called; None for one that no tenant ever moves."""
    kinds = {item.name: item.kind for item in device.parts.inputs}
    match kinds.get(control.input), device.duty:
        case InputKind.CHANNEL, _:
            return Move.TIMER_ON, Move.TIMER_OFF
        case InputKind.BOOST, _:
            return Move.BOOST, Move.TIMER_OFF
        case InputKind.THERMOSTAT, Duty.CYLINDER_THERMOSTAT:
            return None
        case InputKind.THERMOSTAT, _:
            return Move.ROOM_UP, Move.ROOM_DOWN
        case InputKind.LEVER, _:
            return Move.LEVER_LATCHED, Move.LEVER_BACK
        case InputKind.ISOLATOR, _ if not control.name.endswith("fuse carrier"):
            return Move.SWITCH_ON, Move.SWITCH_OFF
        case _:
            return None


_GUARDING = (Duty.VALVE, Duty.BOILER, Duty.CYLINDER, Duty.CYLINDER_THERMOSTAT)


def _lever_refused(circuit: Circuit, device: PlacedDevice) -> Reason | None:
    """Why the lever of a valve may not be latched, whatever has failed.

    Where a latched lever leads hangs on the wiring of every valve, of the boiler and of what keeps a cylinder from boiling.
    """
    if any(_assumed(circuit, each) for each in circuit.devices if each.duty in _GUARDING):
        return Reason.ASSUMED
    if any(each is not device and _alike(each, device) for each in circuit.with_duty(Duty.VALVE)):
        return Reason.NOT_TOLD_APART
    through = [item for item in circuit.water.circuits if item.valve == device.name]
    if unvented(circuit) and any(item.feeds in COILS for item in through):
        return Reason.UNVENTED
    if any(_hot_floor(item) for item in through):
        return Reason.UNDERFLOOR_NOT_BLENDED
    return None


def _alike(one: PlacedDevice, other: PlacedDevice) -> bool:
    """Whether two valves with levers are said to be in the same place, so that a tenant may take the wrong one."""
    levers = [any(c.input.endswith(".lever") for c in each.parts.controls) for each in (one, other)]
    return all(levers) and _words(one.place) == _words(other.place)


def _words(place: str) -> list[str]:
    return place.casefold().replace(",", " ").split()


def _hot_floor(item: WaterCircuit) -> bool:
    return "underfloor" in item.feeds and item.blending is not True


def _zones_by_input(circuit: Circuit) -> dict[str, str]:
    zones: dict[str, str] = {}
    for zone in circuit.zones:
        for name in (*zone.call_inputs, f"{zone.valve}.lever"):
            zones.setdefault(name, zone.name)
    return zones


def _feeds(circuit: Circuit, supply: str) -> str:
    """The device of the immersion heater that a supply feeds straight, empty for any other supply."""
    own = f"{supply}."
    for device in circuit.with_duty(Duty.IMMERSION):
        there = f"{device.name}."
        for conductor in circuit.conductors:
            ends = (conductor.a, conductor.b)
            if any(e.startswith(own) for e in ends) and any(e.startswith(there) for e in ends):
                return device.name
    return ""


def _is_main(circuit: Circuit, step: Step) -> bool:
    return step.move is Move.SWITCH_ON and not _feeds(circuit, step.device)


def _immersion(circuit: Circuit, on: Mapping[str, Step]) -> tuple[Step | None, Reason | None]:
    """The step that switches the immersion heater on, and the reason against it."""
    heaters = circuit.with_duty(Duty.IMMERSION)
    if not heaters:
        return None, None
    for step in on.values():
        heater = _feeds(circuit, step.device) if step.move is Move.SWITCH_ON else ""
        if not heater:
            continue
        device = circuit.device(heater)
        tested = all(getattr(device.settings, name, "") == "tested" for name in ("thermostat", "cut_out"))
        if not tested:
            return None, Reason.IMMERSION_NOT_TESTED
        return (None, Reason.ASSUMED) if _assumed(circuit, device) else (step, None)
    return None, Reason.OUT_OF_REACH
