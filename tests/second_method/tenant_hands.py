"""Where a tenant's hand may go, read from the record alone."""

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, How, PlacedDevice

FAR = ("loft", "attic hatch", "ladder", "roof space", "crawl", "under the floor", "behind the panel")


def movable(circuit: Circuit, name: str) -> bool:
    """Whether a tenant may move a control at all."""
    device = circuit.device(name.split(".", 1)[0])
    has = any(control.input == name for control in device.parts.controls)
    return (
        has
        and device.duty is not Duty.CYLINDER_THERMOSTAT
        and _near(device)
        and not _assumed(circuit, device)
    )


def _near(device: PlacedDevice) -> bool:
    return device.reach == "tenant" and not any(word in device.place.casefold() for word in FAR)


def _assumed(circuit: Circuit, device: PlacedDevice) -> bool:
    at = {device.name}
    return device.certainty.how is How.ASSUMED or any(
        c.certainty.how is How.ASSUMED and {c.a.split(".", 1)[0], c.b.split(".", 1)[0]} & at
        for c in circuit.conductors
    )


def is_immersion(circuit: Circuit, supply: str) -> bool:
    """Whether a supply feeds an immersion heater straight."""
    heaters = {device.name for device in circuit.with_duty(Duty.IMMERSION)}
    for conductor in circuit.conductors:
        ends = {conductor.a.split(".", 1)[0], conductor.b.split(".", 1)[0]}
        if supply in ends and ends & heaters:
            return True
    return False


def immersion_tested(circuit: Circuit) -> bool:
    """Whether every immersion heater's own thermostat and cut-out are tested."""
    heaters = circuit.with_duty(Duty.IMMERSION)
    return all(
        getattr(device.settings, name, "") == "tested"
        for device in heaters
        for name in ("thermostat", "cut_out")
    )
