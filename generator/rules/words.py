"""Plain words for devices, terminals, conductors and paths, as messages use them.

Knows names and words only: nothing of states or rules.
"""

from collections.abc import Iterable

from generator.catalogue.parts import Load
from generator.circuit.model import Circuit, Conductor, PlacedDevice, ZoneIntent
from generator.record.core_codes import COLOUR_WORDS
from generator.states.trace import Step


def plain(name: str, words: str) -> str:
    """What a page calls something, in the middle of a sentence.

    Words made from the key begin small; words that somebody wrote are left as they are.
    """
    made = name.replace("-", " ")
    return made if words.lower() == made else words


def the_device(device: PlacedDevice) -> str:
    """``the hall valve``."""
    return f"the {plain(device.name, device.words)}"


def the_zone(zone: ZoneIntent) -> str:
    """``hot water``: a zone has no article."""
    return plain(zone.name, zone.words)


def device_of(circuit: Circuit, ref: str) -> PlacedDevice:
    """The device that a point belongs to. Raises KeyError for a point of no device."""
    return circuit.device(device_name(ref))


def lets_through(circuit: Circuit, opens: str) -> tuple[str, str, str]:
    """Who lets water through, what it does, and how it is then.

    ``the hall valve``, ``opens``, ``is open``; with ``to heating`` behind for a three-port valve; ``the zone pump``,
    ``runs``, ``runs``.
    """
    who, part = the_device(device_of(circuit, opens)), terminal_of(opens)
    if part == "running":
        return who, "runs", "runs"
    to = {"open-heating": " to heating", "open-water": " to hot water"}.get(part, "")
    return who, f"opens{to}", f"is open{to}"


def the_load(circuit: Circuit, load: Load) -> str:
    """``the valve motor of the hall valve``; ``the pump`` for the one load of a pump."""
    device = device_of(circuit, load.name)
    return (
        the_device(device) if load.words == device.kind.words else f"the {load.words} of {the_device(device)}"
    )


def device_name(ref: str) -> str:
    """The name of the device that a point belongs to, whether there is such a device or not."""
    return ref.partition(".")[0]


def terminal_of(ref: str) -> str:
    """The device's own name of a terminal."""
    return ref.partition(".")[2]


def the_terminal(circuit: Circuit, ref: str) -> str:
    """``terminal `motor` of the hall valve``."""
    return f"terminal `{terminal_of(ref)}` of {the_device(device_of(circuit, ref))}"


def colour_of(core: str) -> str:
    """The code of a core's colour without the number that tells it from others of its colour."""
    return core.rstrip("0123456789")


def colour_words(core: str) -> str:
    """``brown``, ``brown and white``; the code where it has no word."""
    code = colour_of(core)
    if code in COLOUR_WORDS:
        return COLOUR_WORDS[code]
    first, second = COLOUR_WORDS.get(code[:2], ""), COLOUR_WORDS.get(code[2:], "")
    return f"{first} and {second}" if first and second else code


def conductor_name(conductor: Conductor) -> str:
    """What acceptances of findings call a conductor: ``hall-valve BN``, ``link centre.A centre.B``."""
    if conductor.is_link:
        return f"link {conductor.a} {conductor.b}"
    return f"{conductor.cable} {conductor.core}"


def the_conductor(conductor: Conductor) -> str:
    """``the brown core (BN) of cable `hall-valve```, or the link with both its ends."""
    if conductor.is_link:
        return f"the link from `{conductor.a}` to `{conductor.b}`"
    return f"the {colour_words(conductor.core)} core ({conductor.core}) of cable `{conductor.cable}`"


def and_so_on(words: Iterable[str], joiner: str = "and") -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    each = list(words)
    if len(each) < 2:
        return "".join(each)
    return f"{', '.join(each[:-1])} {joiner} {each[-1]}"


def way(circuit: Circuit, steps: Iterable[Step]) -> str:
    """A path, terminal by terminal: ``spur.L > centre.A > hall-valve.motor``; points inside devices are left out."""
    inner = set(circuit.inner)
    points: list[str] = []
    for step in steps:
        points += [step.start, step.to]
    shown = [f"`{point}`" for point in dict.fromkeys(points) if point not in inner]
    return " > ".join(shown)
