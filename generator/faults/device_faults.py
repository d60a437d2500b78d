"""The ways in which the devices of a house fail, each as a change; by what a device is made of, never by its kind.

What fails how often is not said here. That these are the ways is common practice, no source.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.logic import All, Any, Expr, Is, Not
from generator.catalogue.parts import Contact, Heat, InputKind, LoadKind, Supply
from generator.circuit.model import Circuit, PlacedDevice
from generator.faults.fault import Change, Fault, Of

_NO_FUEL = {
    Heat.BOILER: "no gas, no oil or no credit",
    Heat.HEAT_PUMP: "no power or no credit",
    Heat.NETWORK: "no heat from the building's main, or no credit",
}
_FLAT = (Duty.CENTRE, Duty.BYPASS, Duty.WATER, Duty.CYLINDER)


class DeviceFaults:
    """The faults of the devices of one circuit, in the order of the record."""

    def __init__(self, circuit: Circuit) -> None:
        """Prepare for a circuit."""
        self.circuit = circuit

    def all(self) -> Iterator[Fault]:
        """Every fault of every device."""
        for device in self.circuit.devices:
            yield from self._of(device)

    def _of(self, device: PlacedDevice) -> Iterator[Fault]:
        if device.duty is Duty.SUPPLY:
            yield from self._supply(device)
            return
        if device.duty is Duty.BYPASS:
            yield _fault(device, "bypass-shut", "lets nothing through", Change(of=Of.BYPASS, name=""))
            return
        if device.duty is Duty.BOILER:
            yield from self._boiler(device)
        if device.duty is Duty.VALVE:
            yield from self._valve(device)
        if device.duty is Duty.PUMP:
            yield from self._pump(device)
        if device.duty is Duty.TIMER:
            yield from self._timer(device)
        yield from self._inputs(device)
        if device.duty not in _FLAT:
            yield from self._loads(device)
            yield from self._contacts(device)

    def _supply(self, device: PlacedDevice) -> Iterator[Fault]:
        lines = {supply.line for supply in self._supplies(device)}
        ways = [
            contact.name
            for contact in self.circuit.contacts
            if contact.name.startswith(f"{device.name}.") and {contact.a, contact.b} & lines
        ]
        blown = tuple(Change(of=Of.CONTACT, name=name, on=False) for name in ways)
        yield _fault(device, "fuse-blown", "fuse blown", *blown)
        for item in self.circuit.inputs:
            if item.kind is InputKind.ISOLATOR and item.name.startswith(f"{device.name}."):
                yield Fault(
                    name=f"switched-off:{device.name}",
                    words=f"{device.words}: switched off",
                    device=device.name,
                    changes=blown,
                    off=item.name,
                )

    def _supplies(self, device: PlacedDevice) -> list[Supply]:
        return [supply for supply in self.circuit.supplies if supply.name.startswith(f"{device.name}.")]

    def _boiler(self, device: PlacedDevice) -> Iterator[Fault]:
        cold = Change(of=Of.HEAT, name=device.name)
        burns = device.parts.heat is Heat.BOILER
        yield _fault(device, "locked-out", "locked out" if burns else "gives no heat", cold)
        if device.parts.heat is not Heat.NETWORK:
            pressure = f"water pressure too low to {'fire' if burns else 'run'}"
            yield _fault(device, "low-water-pressure", pressure, cold)
        if burns:
            yield _fault(device, "condensate-frozen", "condensate pipe frozen", cold)
        yield from self._no_fuel(device)
        for item in self._parts(device):
            if item == f"{device.name}.firing":
                yield _fault(
                    device,
                    "demand-dead",
                    "demand input dead: a call does not fire it"
                    if burns
                    else "demand input dead: a call does not reach it",
                    Change(of=Of.PART, name=item),
                )
            if item == f"{device.name}.heating-tap-water":
                yield _fault(
                    device,
                    "tap-water-dead",
                    "a hot tap does not start it, or it heats no water for taps",
                    Change(of=Of.PART, name=item),
                )

    def _no_fuel(self, device: PlacedDevice) -> Iterator[Fault]:
        """One meter serves all that burn the same, so they stop together; told at the first of them."""
        alike = [each for each in self.circuit.with_duty(Duty.BOILER) if each.parts.heat is device.parts.heat]
        if alike[0] is not device:
            return
        cold = tuple(Change(of=Of.HEAT, name=each.name) for each in alike)
        words = " and ".join(each.words for each in alike)
        yield Fault(
            name=f"no-fuel:{device.name}",
            words=f"{words}: {_NO_FUEL[device.parts.heat]}",
            device=device.name,
            changes=cold,
            credit=True,
        )

    def _valve(self, device: PlacedDevice) -> Iterator[Fault]:
        name = device.name
        parts = self._parts(device)
        rest = tuple(Change(of=Of.PART, name=part, on=self._at(part, fed=False)) for part in parts)
        driven = tuple(Change(of=Of.PART, name=part, on=self._at(part, fed=True)) for part in parts)
        motors = [load for load in self.circuit.loads if load.name.startswith(f"{name}.")]
        motors = [load for load in motors if load.kind in (LoadKind.MOTOR, LoadKind.HEATER)]
        for load in motors:
            at = f"{name}.{load.name.split('.', 1)[1]}" if len(motors) > 1 else name
            dead = Change(of=Of.LOAD, name=load.name)
            yield Fault(
                name=f"motor-open-circuit:{at}",
                words=f"{device.words}: {load.words} open-circuit",
                device=name,
                changes=(dead,),
            )
            if load.kind is LoadKind.MOTOR:
                yield Fault(
                    name=f"gears-worn:{at}",
                    words=f"{device.words}: gears worn, {load.words} turns and the valve does not",
                    device=name,
                    changes=(dead,),
                )
        if parts:
            yield _fault(device, "spindle-seized", "spindle seized where it rests", *rest)
            yield _fault(
                device, "stuck-driven", "stuck where the motor drives it, with its switches", *driven
            )
            ports = tuple(change for change in driven if "open" in change.name.split(".", 1)[1])
            if ports != driven:
                yield _fault(
                    device, "stuck-without-switch", "stuck where the motor drives it, switches back", *ports
                )
        for lever in self._inputs_of(device, InputKind.LEVER):
            yield Fault(
                name=f"lever-left-latched:{name}",
                words=f"{device.words}: lever left latched",
                device=name,
                latched=lever,
            )
        opened = [
            circuit.name for circuit in self.circuit.water.circuits if circuit.valve == name and circuit.opens
        ]
        if opened:
            blocked = tuple(Change(of=Of.FLOW, name=each) for each in opened)
            yield _fault(
                device, "paddle-lost", "closing member lost or loose: switch makes, no flow", *blocked
            )
        yield _fault(device, "seal-leaking", "spindle seal leaking onto the head")

    def _pump(self, device: PlacedDevice) -> Iterator[Fault]:
        dead = tuple(Change(of=Of.LOAD, name=load) for load in self._loads_of(device))
        still = tuple(Change(of=Of.PART, name=part) for part in self._parts(device))
        if dead or still:
            yield _fault(device, "pump-seized", "seized or its motor open-circuit", *dead, *still)

    def _timer(self, device: PlacedDevice) -> Iterator[Fault]:
        channels = self._inputs_of(device, InputKind.CHANNEL)
        yield _fault(
            device,
            "timer-dead",
            "dead, every channel off",
            *(Change(of=Of.INPUT, name=channel) for channel in channels),
            *(Change(of=Of.LOAD, name=load) for load in self._loads_of(device)),
        )
        yield Fault(
            name=f"clock-wrong:{device.name}",
            words=f"{device.words}: clock or programme wrong, channels off when they are wanted",
            device=device.name,
            unset=channels,
        )
        if len(channels) > 1:
            words = {item.name: item.words for item in self.circuit.inputs}
            for channel in channels:
                yield Fault(
                    name=f"programme-wrong:{channel}",
                    words=f"{device.words}, {words[channel]}: programmed off when it is wanted",
                    device=device.name,
                    unset=(channel,),
                )

    def _inputs(self, device: PlacedDevice) -> Iterator[Fault]:
        for item in self.circuit.inputs:
            if not item.name.startswith(f"{device.name}."):
                continue
            own = item.name.split(".", 1)[1]
            many = own not in ("calling", "cut-out", "contact")
            at = item.name if many else device.name
            which = f"{device.words}, {item.words}" if many else device.words
            on = Change(of=Of.INPUT, name=item.name, on=True)
            off = Change(of=Of.INPUT, name=item.name, on=False)
            if item.kind in (InputKind.CHANNEL, InputKind.THERMOSTAT, InputKind.SENSOR, InputKind.BOOST):
                if item.normal is True:
                    yield _named(device, f"lost:{at}", f"{which}: {item.off_words}", off)
                    continue
                if item.normal is False:
                    continue  # a hot tap
                yield _named(device, f"stuck-on:{at}", f"{which}: stuck {item.on_words}", on)
                yield _named(device, f"stuck-off:{at}", f"{which}: stuck {item.off_words}", off)
                if item.kind is InputKind.THERMOSTAT and device.duty is Duty.ROOM_THERMOSTAT:
                    yield Fault(
                        name=f"set-low:{at}",
                        words=f"{which}: set too low",
                        device=device.name,
                        unset=(item.name,),
                    )
            elif item.kind is InputKind.TRIP:
                yield _named(device, f"tripped:{at}", f"{which}: {item.words} {item.on_words}", on)

    def _loads(self, device: PlacedDevice) -> Iterator[Fault]:
        """Loads without which something does not work: what follows from their being fed goes."""
        asked = device.duty in (Duty.VALVE, Duty.PUMP, Duty.TIMER)
        for load in self.circuit.loads:
            mine = load.name.startswith(f"{device.name}.")
            if not mine or asked or load.kind is LoadKind.LAMP:
                continue
            yield _named(
                device,
                f"dead:{load.name}",
                f"{device.words}: {load.words} dead, or without supply or battery",
                Change(of=Of.LOAD, name=load.name),
            )

    def _contacts(self, device: PlacedDevice) -> Iterator[Fault]:
        for contact in self.circuit.contacts:
            if not contact.name.startswith(f"{device.name}.") or not _moves(contact):
                continue
            words = f"{device.words}: {contact.words}"
            yield _named(
                device,
                f"contact-never-makes:{contact.name}",
                f"{words} never makes",
                Change(of=Of.CONTACT, name=contact.name, on=False),
            )
            yield _named(
                device,
                f"contact-stuck-made:{contact.name}",
                f"{words} stuck made",
                Change(of=Of.CONTACT, name=contact.name, on=True),
            )

    def _parts(self, device: PlacedDevice) -> tuple[str, ...]:
        return tuple(item.name for item in self.circuit.driven if item.name.startswith(f"{device.name}."))

    def _loads_of(self, device: PlacedDevice) -> tuple[str, ...]:
        return tuple(item.name for item in self.circuit.loads if item.name.startswith(f"{device.name}."))

    def _inputs_of(self, device: PlacedDevice, kind: InputKind) -> tuple[str, ...]:
        return tuple(
            item.name
            for item in self.circuit.inputs
            if item.kind is kind and item.name.startswith(f"{device.name}.")
        )

    def _at(self, part: str, *, fed: bool) -> bool:
        """Where a part of a valve stands with its motor fed for long, or with no supply and its lever at rest."""
        of = {item.name: item.when for item in self.circuit.driven}
        now = dict.fromkeys(of, False)
        for _ in range(len(of) + 1):
            now = {
                name: _true(when, now, fed) if name.split(".")[0] == part.split(".", maxsplit=1)[0] else False
                for name, when in of.items()
            }
        return now[part]


def _true(expr: Expr, parts: dict[str, bool], fed: bool) -> bool:
    match expr:
        case Not(inner):
            return not _true(inner, parts, fed)
        case All(of):
            return all(_true(each, parts, fed) for each in of)
        case Any(of):
            return any(_true(each, parts, fed) for each in of)
        case Is(name):
            return parts.get(name, False)
        case _:
            return fed


def _moves(contact: Contact) -> bool:
    """Whether anything moves the contact; a rail inside a box does not."""
    return contact.when not in (All(()), Any(()))


def _fault(device: PlacedDevice, kind: str, words: str, *changes: Change) -> Fault:
    return Fault(
        name=f"{kind}:{device.name}", words=f"{device.words}: {words}", device=device.name, changes=changes
    )


def _named(device: PlacedDevice, name: str, words: str, *changes: Change) -> Fault:
    return Fault(name=name, words=words, device=device.name, changes=changes)
