"""Words for devices, terminals and lists, said the same way on every page."""

from collections.abc import Sequence

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, TerminalPlace


class Naming:
    """Looks up how a point of the circuit is called on pages."""

    def __init__(self, circuit: Circuit) -> None:
        self._places = {place.ref: place for place in circuit.terminals}
        self._devices = {device.name: device for device in circuit.devices}
        self._many_centres = len(circuit.with_duty(Duty.CENTRE)) > 1

    def place(self, ref: str) -> TerminalPlace | None:
        """The terminal, None for a point inside a device."""
        return self._places.get(ref)

    def device(self, ref: str) -> str:
        """Words of the device that a point belongs to."""
        return self._devices[ref.split(".", 1)[0]].words

    def point(self, ref: str) -> str:
        """``terminal A``, or ``hall valve motor``: short, for the middle of a sentence."""
        place = self._places.get(ref)
        if place is None:
            return f"inside the {lower(self.device(ref))}"
        if place.device.duty is Duty.CENTRE:
            inside = f" of the {lower(place.device.words)}" if self._many_centres else ""
            return f"terminal {place.terminal.name}{inside}"
        return f"{lower(place.device.words)} {place.terminal.name}"

    def label(self, ref: str) -> str:
        """``A``, or ``Hall valve motor``: for a table or a chip."""
        text = self.point(ref)
        return text[:1].upper() + text[1:]


def lower(words: str) -> str:
    """The words with a small first letter, unless they begin with an abbreviation."""
    if len(words) > 1 and words[1].isupper():
        return words
    return words[:1].lower() + words[1:]


def capital(words: str) -> str:
    """The words with a capital first letter."""
    return words[:1].upper() + words[1:]


def listed(parts: Sequence[str], last: str = "and") -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def number(count: int) -> str:
    """Small numbers in words, others in figures."""
    words = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    return words[count] if 0 <= count < len(words) else str(count)


def plural(count: int, one: str, many: str = "") -> str:
    """``one zone``, ``three zones``."""
    return f"{number(count)} {one if count == 1 else many or one + 's'}"
