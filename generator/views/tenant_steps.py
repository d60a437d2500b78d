"""Each step of an override as a tenant reads it: one sentence, the picture of the control, and where it is.

Takes steps as they were proved and adds none. Knows no page.
"""

from dataclasses import replace

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit, PlacedDevice
from generator.overrides.model import Move, Service, Step
from generator.views.tenant_model import Picture, ShownStep
from generator.views.tenant_wording import Own, Phrase, Wording

HOT_WATER = "hot water"
_CREDIT = {
    "gas": "check-credit",
    "heat network": "check-credit-heat",
    "oil": "check-tank-oil",
    "lpg": "check-tank-lpg",
}
"""What is looked at first, by the fuel; of all others only the meter for power."""
_TANKS = ("oil", "lpg")
_TIMER = {Move.TIMER_ON: "timer-on", Move.TIMER_OFF: "timer-off"}
_ROOM = {Move.ROOM_UP: "room-up", Move.ROOM_DOWN: "room-down"}
_LEVER = (Move.LEVER_LATCHED, Move.LEVER_BACK)
_MOVED = {Move.ROOM_UP: "-up", Move.ROOM_DOWN: "-down", Move.LEVER_BACK: "-back"}
"""What is added to the name of a picture that shows which way to move."""
_SWITCH = (Move.SWITCH_ON, Move.SWITCH_OFF)


class StepWords:
    """Says the steps of one house in one language."""

    def __init__(
        self, circuit: Circuit, services: tuple[Service, ...], wording: Wording, *, fuel: str
    ) -> None:
        """Keep what the words depend on.

        Args:
            circuit: The house's; its devices' names and places are shown where a step moves them.
            services: What the tenant can want there; a zone is called by its name only where there are several.
            wording: The language.
            fuel: As recorded; it decides which meters there are.
        """
        self._devices = {device.name: device for device in circuit.devices}
        self._circuit = circuit
        self._services = {service.name: service for service in services}
        self._wording = wording
        self._fuel = fuel
        self._timers = sum(device.duty is Duty.TIMER for device in circuit.devices)
        self._tank = any(device.duty is Duty.CYLINDER for device in circuit.devices)

    def step(self, number: int, step: Step) -> ShownStep:
        """The step as it is done."""
        key, more = self._move(step)
        return self._shown(number, step, key, more, _MOVED.get(step.move, ""))

    def undone(self, number: int, step: Step) -> ShownStep:
        """The step as it is undone; ``step`` is one of those that put everything back."""
        says, more = self._back(step)
        shown = self._shown(number, step, says, more, "-back" if step.move in _LEVER else "")
        # `on the timer` says which part it is, where there is only one.
        return replace(shown, part="") if shown.picture.name == "timer" and self._timers == 1 else shown

    def alone(self, name: str) -> bool:
        """Whether no other service of the house is of the same sort, so that it needs no name."""
        service = self._services.get(name)
        return service is not None and sum(s.serves == service.serves for s in self._services.values()) == 1

    def _shown(
        self, number: int, step: Step, says: Phrase, more: tuple[Phrase, ...], moved: str
    ) -> ShownStep:
        device = self._devices.get(step.device)
        return ShownStep(
            number=number,
            says=says,
            more=more,
            picture=self._picture(step, device, moved),
            part=device.words if device else "",
            place=device.place if device else "",
        )

    def _move(self, step: Step) -> tuple[Phrase, tuple[Phrase, ...]]:
        say = self._wording.say
        if step.move in _TIMER:
            key = f"move.{_TIMER[step.move]}"
            return self._on_timer(key, step), (*self._channel(step), say(f"{key}-more"))
        if step.move in _ROOM:
            key = f"move.{_ROOM[step.move]}"
            return say(key), (say(f"{key}-more"),)
        if step.move is Move.CHECK_CREDIT:
            more = (
                ("check-tank-more", "check-tank-unseen", "check-tank-power") if self._fuel in _TANKS else ()
            )
            return (
                say(f"move.{_CREDIT.get(self._fuel, 'check-credit-electric')}"),
                tuple(say(f"move.{key}") for key in more),
            )
        if step.move in (
            Move.LEVER_LATCHED,
            Move.LEVER_BACK,
            Move.SWITCH_ON,
            Move.SWITCH_OFF,
            Move.CHECK_TAP,
        ):
            key = f"move.{_slug(step.move)}"
            return say(key), (say(f"{key}-more"),)
        return say(f"move.{_slug(step.move)}"), ()

    def _back(self, step: Step) -> tuple[Phrase, tuple[Phrase, ...]]:
        say = self._wording.say
        if step.move in _TIMER or (step.move is Move.PUT_BACK and self._buttons(step)[1]):
            return self._on_timer("back.timer", step), (say("back.timer-more"),)
        if step.move in _ROOM or step.move is Move.PUT_BACK:
            return say("back.room"), ()
        if step.move in _LEVER:
            return say("back.lever"), ()
        if step.move in _SWITCH:
            return say("back.switch-on" if step.to else "back.switch-off"), ()
        if step.move is Move.BOOST:
            return say("back.boost"), ()
        return self._move(step)

    def _on_timer(self, key: str, step: Step) -> Phrase:
        """The sentence with what the channel is for: `the heating`, `the hot water`, or the zone by its name."""
        service = self._services.get(step.zone)
        if service is None:
            return self._wording.say(f"{key}-part")
        if self.alone(service.name):
            return self._wording.say(f"{key}-{'water' if service.serves == HOT_WATER else 'heating'}")
        return self._wording.say(key, zone=Own(service.words))

    def _channel(self, step: Step) -> tuple[Phrase, ...]:
        of, which = self._buttons(step)
        return (self._wording.say("move.channel", number=str(which)),) if of > 1 and which else ()

    def _buttons(self, step: Step) -> tuple[int, int]:
        """How many channels the timer has, and which one is meant, in the order of the device."""
        device = self._devices.get(step.device)
        if device is None:
            return 0, 0
        channels = [item.name for item in device.parts.inputs if item.kind is InputKind.CHANNEL]
        return len(channels), channels.index(step.input) + 1 if step.input in channels else 0

    def _picture(self, step: Step, device: PlacedDevice | None, moved: str) -> Picture:
        name, of, which, tank = self._picture_name(step, device), 0, 0, False
        key = f"picture.{name}"
        given = {}
        if name == "timer":
            of, which = self._buttons(step)
            if of > 1 and which:
                given = {"number": str(which)}
            else:
                key = "picture.timer-one"
        if name == "valve" and self._tank and device is not None and self._heats_tank(device):
            tank, key = True, "picture.valve-tank"
        says = self._wording.say(key, **given)
        return Picture(name=name + moved, says=says, of=of, which=which, tank=tank)

    def _heats_tank(self, device: PlacedDevice) -> bool:
        return any(zone.valve == device.name and zone.serves == HOT_WATER for zone in self._circuit.zones)

    def _picture_name(self, step: Step, device: PlacedDevice | None) -> str:
        if step.move in _TIMER or (step.move is Move.PUT_BACK and self._buttons(step)[1]):
            return "timer"
        if step.move in _ROOM or step.move is Move.PUT_BACK:
            mechanical = device is not None and getattr(device.settings, "type", "") == "mechanical"
            return "dial" if mechanical else "digital"
        return {
            Move.CHECK_CREDIT: "gauge" if self._fuel in _TANKS else "meter",
            Move.CHECK_TAP: "tap",
            Move.BOOST: "boost",
            Move.LEVER_LATCHED: "valve",
            Move.LEVER_BACK: "valve",
            Move.SWITCH_ON: "switch",
            Move.SWITCH_OFF: "switch",
        }.get(step.move, "clock")


def _slug(move: Move) -> str:
    return move.name.lower().replace("_", "-")
