"""What is unusual about the devices of a house: heat that no control stops, frost calls, inputs that must not see mains.

Goes by duty and parts. Knows nothing of wiring.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit
from generator.views.wording import capital, listed, lower


def unusual_heat(circuit: Circuit) -> Iterator[tuple[str, str]]:
    """Heat that goes on whatever is switched off, and supplies of several phases: what can hurt first."""
    for device in circuit.with_duty(Duty.UNCONTROLLED_HEAT):
        yield (
            "heat-without-control",
            f"The {lower(device.words)} makes heat that no control stops. Never stop the pump or shut the path that carries it away.",
        )
    phases = {supply.phase for supply in circuit.supplies}
    if len(phases) > 1:
        yield (
            "several-phases",
            f"The supplies are on {len(phases)} phases: 400 V may stand between their lines.",
        )


def unusual_calls(circuit: Circuit) -> Iterator[tuple[str, str]]:
    """Calls that no zone makes, inputs that must never see mains, and other heat."""
    felt = [
        device
        for device in circuit.devices
        if device.parts.senses and device.duty in (Duty.BOILER, Duty.CONTROLLER, Duty.OTHER)
    ]
    for device in felt:
        over = "over a bus" if device.parts.buses else "by a volt-free contact"
        points = listed(
            [f"`{point.split('.', 1)[1]}`" for sense in device.parts.senses for point in (sense.a, sense.b)]
        )
        yield (
            "extra-low-voltage",
            f"The {lower(device.words)} is called {over}: {points} must never see mains.",
        )
    for device in circuit.with_duty(Duty.FROST_THERMOSTAT):
        yield "frost-thermostat", f"The {lower(device.words)} can call past every timer and room thermostat."
    for device in circuit.with_duty(Duty.SOLAR):
        yield (
            "solar",
            f"The {lower(device.words)} heats the cylinder too: pipes can be hot with the boiler off.",
        )
    for zone in circuit.zones:
        if zone.channel_also:
            yield (
                "channels-linked",
                f"{capital(lower(zone.words))} is on whenever heating is: the timer links its channels.",
            )
