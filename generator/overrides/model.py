"""What the search for overrides answers: symptoms, steps to try in order, what speaks against, and the proof.

Plain data in the names of the record and of the circuit. It holds no sentence for a tenant: the wording has a
catalogue of its own.
"""

from dataclasses import dataclass
from enum import StrEnum


class Move(StrEnum):
    """What a hand does in one step. The first two move nothing in the circuit."""

    CHECK_CREDIT = "check that there is fuel, and credit on the meter"
    CHECK_TAP = "check that water runs from a hot tap"
    TIMER_ON = "set a timer channel to stay on"
    TIMER_OFF = "set a timer channel to stay off"
    ROOM_UP = "turn a room thermostat up"
    ROOM_DOWN = "turn a room thermostat down"
    BOOST = "press boost"
    LEVER_LATCHED = "move a valve's lever to the open end and latch it there"
    LEVER_BACK = "let a valve's lever go back"
    PUT_BACK = "set a timer or a room thermostat as it was before"
    SWITCH_ON = "switch a spur or isolator on"
    SWITCH_OFF = "switch a spur or isolator off"


class Reason(StrEnum):
    """Why there is no step, or no further one. The wording catalogue has a sentence for each."""

    DANGER = "the record shows a danger in this wiring"
    NOT_SOLVED = "the record could not be solved"
    SOLID_FUEL = "heat that no control can stop"
    UNVENTED = "only the lever of an unvented cylinder's valve would help, and it must not be touched"
    UNVENTED_STUCK = "the unvented cylinder's valve may be stuck open, so nothing may call the boiler"
    VENTED_POLICY = "the firm does not let tenants latch a valve to a hot water cylinder"
    OUT_OF_REACH = "the control is not where a tenant can reach it"
    ASSUMED = "nobody has looked at the wiring of the part that would be moved"
    IMMERSION_NOT_TESTED = "the immersion heater's thermostat or cut-out is not recorded as tested"
    UNDERFLOOR_NOT_BLENDED = (
        "the floor has no blending set on record, and would get water as hot as radiators"
    )
    NOT_TOLD_APART = "the record does not tell its lever from another one in the same place"
    TOO_LARGE = "the house has more controls than steps can be searched for in every state"
    NO_WAY = "nothing that a tenant can move brings it back"
    HAZARD = "what would help could lead to a hazard"
    NOT_RETURNED = "it is not shown that everything goes back to normal afterwards"
    ONLY_STOP = "the only safe thing is to stop the heating and to ring"


class Caution(StrEnum):
    """What must be said with the steps."""

    SCALD = "the hot water can get hotter than usual"
    TIME_LIMIT = "put it back within the firm's time limit"
    STAYS_WARM = "a part of the house stays warm until it is put back, at least while anything else calls"
    ALSO_HEATS = "another part is heated as well"
    COSTS = "it costs more to run"
    FROST = "nothing protects the pipes from frost while it is off"
    ONLY_WHILE = "it works only while something else calls by itself"
    LETS_GO = "the lever may go back by itself"


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """Something a tenant wants: heat in a zone, or hot water.

    ``name`` is the zone's name in the record; ``taps`` for a boiler that heats tap water itself, without a zone.
    ``serves`` is ``heating`` or ``hot water``.
    """

    name: str
    words: str
    serves: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One movement of one control.

    ``device``, ``control`` and ``input`` are empty for a move that moves nothing. ``input`` is a whole name
    (``device.input``); ``to`` is the value it is given. ``zone`` is the zone that the control belongs to by the
    record, empty where none.
    """

    move: Move
    device: str = ""
    control: str = ""
    input: str = ""
    to: bool = True
    zone: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attempt:
    """Steps that belong together; what was done in earlier attempts stands while it is tried.

    ``wanted`` are the services it brings back. ``wait_s`` is how long until the boiler should be heard, from the
    travel times of the parts that move. ``only_while`` names inputs that must call by themselves for it to work with
    some of the faults (a cylinder thermostat that no tenant may turn up); empty where it works in every state with each.
    ``helps`` are the faults of the group for which it brings a wanted service back and no earlier attempt did.
    ``certain`` is False where that goes by something that nobody knows (whether a lever calls the boiler): harmless
    either way. ``also_heats`` are services that get heat without being asked for while it stands.
    """

    steps: tuple[Step, ...]
    wanted: tuple[str, ...]
    wait_s: float
    helps: tuple[str, ...]
    certain: bool = True
    only_while: tuple[str, ...] = ()
    also_heats: tuple[str, ...] = ()
    cautions: tuple[Caution, ...] = ()


class Sign(StrEnum):
    """What a tenant sees first."""

    NOTHING_WARM = "nothing gets warm"
    ROOMS_COLD = "no room gets warm, the hot water is right"
    ZONE_COLD = "one part stays cold, the rest is right"
    WATER_COLD = "no hot water, the rooms are right"
    ROOMS_NEVER_STOP = "the rooms get warm with nothing asking for it"
    WATER_NEVER_STOPS = "the hot water is heated with nothing asking for it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom:
    """What a tenant sees, and which services it speaks of.

    ``slug`` is permanent for the house: the sign's name, with the zone where it speaks of one.
    ``cold`` are the services that stay cold, ``works`` those that work, ``never_stops`` those heated unasked.
    """

    slug: str
    sign: Sign
    cold: tuple[str, ...] = ()
    works: tuple[str, ...] = ()
    never_stops: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What was gone through for one instruction, and what it showed.

    ``states`` are the states in which the instruction was tried, of all faults together; ``faults`` the faults behind the symptom. ``shown``
    are whole sentences for an engineer, ``hazards`` the hazards that were looked for and found in none of the
    states, ``not_helped`` the faults with which it stays cold although every step was done.
    """

    states: int
    faults: tuple[str, ...]
    helped: tuple[str, ...]
    not_helped: tuple[str, ...]
    hazards: tuple[str, ...]
    shown: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """What to do about one symptom.

    ``attempts`` is empty where there is no safe step; ``reasons`` then says why, the most telling first (with steps
    it says what else was looked at and left out). ``still_works`` are services that work with every fault behind the symptom.
    ``put_back`` undoes the steps, last one first.
    """

    symptom: Symptom
    attempts: tuple[Attempt, ...]
    reasons: tuple[Reason, ...]
    still_works: tuple[str, ...]
    put_back: tuple[Step, ...]
    proof: Proof


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultPlan:
    """The shortest safe steps for one single fault and one service.

    ``fault`` is its permanent name, ``words`` says it in an engineer's words. ``steps`` is empty with ``reason`` None where the service
    works with the fault, and empty with a reason where no step brings it back; ``still_works`` then says what does.
    """

    fault: str
    words: str
    service: str
    steps: tuple[Step, ...]
    only_while: tuple[str, ...]
    reason: Reason | None
    still_works: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Overrides:
    """All that is proved for one house.

    ``refused`` is the reason for which the house has no steps at all, None where it may have them. ``hours`` is the
    firm's time limit for a latched lever. ``unsolved`` are the faults, in words, of which no state could be solved: nothing
    is claimed of them.
    """

    services: tuple[Service, ...]
    instructions: tuple[Instruction, ...]
    plans: tuple[FaultPlan, ...]
    refused: Reason | None
    hours: float
    states: int
    faults: int
    unsolved: tuple[str, ...]
