"""What was shown of an instruction, in sentences for an engineer.

Words only; what they state was found by the search.
"""

from collections.abc import Iterator, Sequence

from generator.circuit.model import Circuit
from generator.overrides.house import House
from generator.overrides.model import Attempt, Caution, Move
from generator.overrides.symptoms import Seen

HAZARDS = (
    "a cylinder heated with its thermostat satisfied, that would not be with the levers at rest",
    "an unvented cylinder heated with its thermostat satisfied or its cut-out tripped",
    "a pump with no open way that would have one with the levers at rest",
    "a state that never comes to rest",
    "a part without a blending set on record heated as hot as radiators",
)
"""What is looked for in every state, with every fault behind a symptom."""


def not_found(attempts: Sequence[Attempt]) -> tuple[str, ...]:
    """The hazards that no attempt leads to; none where nothing is tried.

    Where the firm allows the lever of a vented cylinder's valve, that lever does heat the cylinder past its thermostat.
    """
    if not attempts:
        return ()
    past_thermostat = any(
        Caution.SCALD in attempt.cautions and Caution.TIME_LIMIT in attempt.cautions for attempt in attempts
    )
    return HAZARDS[1:] if past_thermostat else HAZARDS


def shown(house: House, seen: Seen, attempts: Sequence[Attempt]) -> Iterator[str]:
    """What was shown, attempt by attempt."""
    total = len(seen.faults)
    words = {each.name: each.service.words for each in house.wanted}
    for number, attempt in enumerate(attempts, start=1):
        moved = [step for step in attempt.steps if step.input]
        if not moved:
            yield f"Try {number} moves nothing: {_faults(len(attempt.helps))} may be put right by it."
            continue
        brings = (
            "stops the heat" if seen.symptom.never_stops else f"brings back {_names(attempt.wanted, words)}"
        )
        sure = "" if attempt.certain else ", for one of the two ways in which its lever may work"
        while_ = ""
        if attempt.only_while:
            calls = [calls_by_itself(house.circuit, name) for name in attempt.only_while]
            while_ = f", while {' and '.join(calls)}"
        yield (
            f"Try {number} {brings} with {len(attempt.helps)} of the {_faults(total)}{sure}, "
            f"in every one of {house.space.size:,} states{while_}."
        )
        if attempt.also_heats:
            yield f"While try {number} stands, {_names(attempt.also_heats, words)} may be heated unasked."
        if Caution.LETS_GO in attempt.cautions:
            yield f"The motor may take the lever of try {number} back: the result was shown with it latched and let go."
    if any(step.move is Move.LEVER_LATCHED for attempt in attempts for step in attempt.steps):
        yield "With every control put back nothing is left that was not there before, whatever came in between."
    elif attempts:
        yield "Only clocks, thermostats and switches are moved: put back, the house is as before."


def calls_by_itself(circuit: Circuit, name: str) -> str:
    """That an input is on with nobody moving it, in words."""
    device = circuit.device(name.split(".", 1)[0])
    on = next(item.on_words for item in circuit.inputs if item.name == name)
    return f"{device.words} is {on} by itself"


def _faults(count: int) -> str:
    return "1 fault" if count == 1 else f"{count:,} faults"


def _names(names: Sequence[str], words: dict[str, str]) -> str:
    return " and ".join(words.get(name, name) for name in names)
