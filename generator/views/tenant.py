"""What a tenant's sheet says before any override is proved: cautions, what works, whom to ring.

Short sentences, one thing each. No step is given here, and nothing an engineer wrote is repeated.
"""

from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.findings.finding import Severity
from generator.record.model import Record
from generator.states.answer import Solution
from generator.views.property import PropertyView
from generator.views.story import ZoneStory

GAS_GREAT_BRITAIN = ("Gas emergency", "0800 111 999")
GAS_NORTHERN_IRELAND = ("Gas emergency", "0800 002 001")
"""The national gas emergency numbers: published by the gas networks of Great Britain and Northern Ireland."""
EMERGENCY = ("Fire or danger to life", "999")


@dataclass(frozen=True, slots=True, kw_only=True)
class TenantWords:
    """The sentences of one sheet and the emergency number that fits the nation and the fuel."""

    home: str
    stop_when: tuple[str, ...]
    never: tuple[str, ...]
    still_works: tuple[str, ...]
    emergency_name: str
    emergency_phone: str
    revision: str


def tenant_words(view: PropertyView) -> TenantWords:
    """The sheet of a property. With danger found, or with a record that cannot be read, it says what is always true."""
    record = view.record
    name, phone = _emergency(record)
    return TenantWords(
        home=", ".join(record.property.address.lines) if record else "your home",
        stop_when=tuple(_stop_when(record)),
        never=tuple(_never(record)),
        still_works=tuple(_still_works(view)),
        emergency_name=name,
        emergency_phone=phone,
        revision=f"Sheet {view.revision}",
    )


def _emergency(record: Record | None) -> tuple[str, str]:
    if record is None or record.property.fuel in ("gas", "lpg"):
        northern = record is not None and record.property.nation == "northern ireland"
        return GAS_NORTHERN_IRELAND if northern else GAS_GREAT_BRITAIN
    return EMERGENCY


def _stop_when(record: Record | None) -> list[str]:
    gas = record is None or record.property.fuel in ("gas", "lpg")
    burns = record is None or record.property.fuel != "electricity"
    sentences = []
    if gas:
        sentences.append("You smell gas. Open the windows and go outside. Touch no switch.")
    if burns:
        sentences.append("An alarm for carbon monoxide sounds. Go outside. Do not go back in.")
    sentences += [
        "Water drips on a switch, a wire or the boiler.",
        "You see smoke or burn marks, or smell burning.",
    ]
    if record is None or _unvented(record):
        sentences.append("Hot water runs from the pipe by the hot tank.")
    return sentences


def _never(record: Record | None) -> list[str]:
    sentences = [
        "Never take off a cover.",
        "Never touch a wire.",
        "Never press a small red button on a tank or a boiler.",
    ]
    if record is None or record.property.fuel != "electricity":
        sentences.append("Never open the boiler. Never try to light it.")
    if record is None or _has_cylinder(record):
        sentences.append("Hot water can scald. Test it with your elbow first.")
    return sentences


def _has_cylinder(record: Record) -> bool:
    return any(device.kind == "cylinder" for device in record.devices.values())


def _unvented(record: Record) -> bool:
    return any(
        device.kind == "cylinder" and (device.settings or {}).get("system") != "vented"
        for device in record.devices.values()
    )


def _still_works(view: PropertyView) -> list[str]:
    """What can be said of the parts that do not depend on each other; nothing where danger is found."""
    solved = view.solved
    if solved is None or view.worst is Severity.DANGER:
        return []
    sentences = []
    independent = [story for story in solved.stories if _stands_alone(solved.solution, story)]
    if len(independent) > 1:
        heating = [story for story in independent if story.zone.serves == "heating"]
        water = [story for story in independent if story.zone.serves == "hot water"]
        if heating and water:
            sentences.append("If the rooms stay cold, the hot water may still work.")
            # One three-port valve serves both: once it rests at hot water nothing warms the rooms.
            if {story.zone.valve for story in heating} - {story.zone.valve for story in water}:
                sentences.append("If the water stays cold, the rooms may still get warm.")
        if len(heating) > 1:
            sentences.append("If one part of your home stays cold, the other parts may still get warm.")
    return sentences


def _stands_alone(solution: Solution, story: ZoneStory) -> bool:
    """Whether the zone's own call, and no other, opens its own valve and calls the boiler."""
    zone = story.zone
    if story.missing or story.assumed or not zone.valve:
        return False
    number = solution.space.state(story.state.on)
    others = {each.opens for each in solution.circuit.zones if each.opens != zone.opens}
    others |= {f"{device.name}.open" for device in solution.circuit.with_duty(Duty.VALVE)} - {zone.opens}
    return not any(solution.settled.on.get(opens, 0) >> number & 1 for opens in others)
