"""Rules on extra-low voltage: mains that reaches it, mains beside it in one box, demand inputs joined for good.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind, Role
from generator.circuit.model import Circuit, TerminalPlace
from generator.findings.finding import Severity
from generator.rules.behaviour import conductors_at, joined_points, way_between, way_words, with_role
from generator.rules.counter_example import counter_example
from generator.rules.example_house import VOLT_FREE, change
from generator.rules.joins import conceivable, to_blame
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject, When
from generator.rules.states_in_words import states_in_words
from generator.rules.words import and_so_on, device_of, terminal_of, the_device, the_terminal
from generator.states.answer import Answer, Solution
from generator.states.network import fold


def _mains_points(circuit: Circuit) -> list[tuple[str, str]]:
    """The points of the supplies and what they are called, lines first."""
    lines = [(supply.line, "mains") for supply in circuit.supplies]
    neutrals = [(supply.neutral, "the neutral of the mains") for supply in circuit.supplies]
    return lines + neutrals + [(supply.earth, "earth") for supply in circuit.supplies]


def _scenarios(subject: Subject) -> Iterator[tuple[str, Solution]]:
    """The normal states, then each lever, cut-out and overrun moved, with what was moved in words."""
    yield "", subject.solution
    for item in subject.circuit.inputs:
        if item.normal is None or item.kind is InputKind.ISOLATOR:
            continue
        state = item.off_words if item.normal else item.on_words
        words = f"with the {item.words} of {the_device(device_of(subject.circuit, item.name))} {state}, "
        for unsure in (False, True):
            yield words, subject.scenario(item.name, not item.normal, unsure=unsure)


def _reached(subject: Subject, ref: str, point: str) -> tuple[str, Solution, Answer, int] | None:
    """The first scenario and answer in which a point of a supply is joined to a terminal."""
    for words, solution in _scenarios(subject):
        for answer in solution.answers:
            vector = answer.joined[point][ref] & answer.at
            if vector:
                return words, solution, answer, vector
    return None


def _pair(place: TerminalPlace) -> str:
    """What the two terminals of one input have in common; a terminal that is no part of one stands for itself."""
    for sense in place.device.parts.senses:
        if place.ref in (sense.a, sense.b):
            return sense.name
    return place.ref


def _mains_on(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    places = list(with_role(circuit, Role.EXTRA_LOW))
    told: set[int] = set()
    pairs_told: set[str] = set()
    groups = fold(circuit).group
    for point, what in _mains_points(circuit) if places else ():
        near = conceivable(circuit, point)
        for place in places:
            net = groups[place.ref]
            pair = _pair(place)
            if net in told or pair in pairs_told or place.ref not in near:
                continue
            found = _reached(subject, place.ref, point)
            if found is None:
                continue
            told.add(net)
            pairs_told.add(pair)
            scenario, solution, answer, vector = found
            steps = way_between(subject, answer, vector, point, place.ref)
            blamed = to_blame(circuit, steps)
            yield Seen(
                path=blamed.path if blamed is not None else place.device.path,
                key=blamed is None,
                subject=place.device.name,
                message=f"{what} reaches {the_terminal(circuit, place.ref)}, which is for extra-low voltage only: "
                f"{way_words(subject, steps)}",
                holds=f"{scenario}{states_in_words(vector, solution.space, circuit).text}",
                example=counter_example(
                    subject,
                    When(vector & solution.settled.at),
                    place.ref,
                    solution=solution,
                    lead=scenario.rstrip(", "),
                )
                if what == "mains" and answer is solution.settled
                else "",
                severity=None if what == "mains" else Severity.ERROR,
            )


MAINS_ON_EXTRA_LOW_VOLTAGE = Rule(
    name="mains-on-extra-low-voltage",
    family=Family.SUPPLY,
    severity=Severity.DANGER,
    summary="Mains reaches an extra-low-voltage terminal",
    why="What is made for a few volts is not insulated for 230 V: its wires, its sensors and whatever the tenant touches "
    "may become live, and the board behind the terminal is wrecked.",
    fix="Isolate, and take the conductor that brings mains off this net. Every contact that serves the input must lie "
    "wholly on the input's own net.",
    source=COMMON_PRACTICE,
    limits="By metal; what comes through a load or from a neighbouring core is left to the readings. An error where it is "
    "neutral or earth that meets the terminal.",
    right=VOLT_FREE,
    wrong=change(
        VOLT_FREE,
        ("    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n", ""),
        ("    - { ends: [boiler.call-b, relay.14], core: WH, cable: demand }\n", ""),
        (
            "        - { to: boiler.L, core: BN }\n",
            (
                "        - { to: boiler.L, core: BN }\n"
                "        - { to: relay.11, core: WH }\n"
                "        - { to: boiler.call-a, core: BK, cable: demand }\n"
            ),
        ),
        ("  direct:\n", "  direct:\n    - { ends: [boiler.call-b, relay.14], core: WH, cable: demand }\n"),
    ),
    look=_mains_on,
)


def _extra_low_nets(circuit: Circuit) -> frozenset[int]:
    groups = fold(circuit).group
    return frozenset(groups[place.ref] for place in with_role(circuit, Role.EXTRA_LOW))


def _live_anywhere(subject: Subject, ref: str) -> int:
    return subject.ever(lambda answer: answer.line[ref])


def _in_mains_box(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    groups, extra_low = fold(circuit).group, _extra_low_nets(circuit)
    for centre in circuit.with_duty(Duty.CENTRE) if extra_low else ():
        landed = [
            place
            for place in circuit.terminals
            if place.device is centre and conductors_at(circuit, place.ref)
        ]
        low = [p for p in landed if groups[p.ref] in extra_low and not _live_anywhere(subject, p.ref)]
        mains = [p for p in landed if _live_anywhere(subject, p.ref)]
        if not low or not mains:
            continue
        names = and_so_on(f"`{terminal_of(place.ref)}`" for place in low)
        yield Seen(
            path=conductors_at(circuit, low[0].ref)[0].path,
            subject=centre.name,
            message=f"{the_device(centre)} holds extra-low voltage ({_terminals(low)} {names}) beside mains",
        )


def _terminals(places: list[TerminalPlace]) -> str:
    return "terminal" if len(places) == 1 else "terminals"


_THROUGH_THE_BOX = (
    ("terminals: [A, B, C, D, E,", "terminals: [A, B, C, D, E, X, Y,"),
    ("    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n", ""),
    ("    - { ends: [boiler.call-b, relay.14], core: WH, cable: demand }\n", ""),
    ("  direct:\n", ""),
    (
        "      F: # earth\n",
        (
            "      X: # boiler's volt-free demand\n"
            "        - { to: relay.11, core: BK }\n"
            "        - { to: boiler.call-a, core: BK, cable: demand }\n"
            "      Y: # boiler's volt-free demand\n"
            "        - { to: relay.14, core: WH }\n"
            "        - { to: boiler.call-b, core: WH, cable: demand }\n"
            "      F: # earth\n"
        ),
    ),
)

EXTRA_LOW_VOLTAGE_IN_MAINS_BOX = Rule(
    name="extra-low-voltage-in-mains-box",
    family=Family.SUPPLY,
    severity=Severity.WARNING,
    summary="Extra-low voltage and mains in one box",
    why="One loose strand, or one conductor moved a terminal along, puts mains on what is made for a few volts.",
    fix="Take the extra-low-voltage conductors past the box, or give them a part of it behind a barrier and insulation "
    "for mains.",
    source=COMMON_PRACTICE,
    limits="Whether there is a barrier is not recorded: accept the finding where there is one.",
    right=VOLT_FREE,
    wrong=change(VOLT_FREE, *_THROUGH_THE_BOX),
    look=_in_mains_box,
)


def _bridged(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.devices:
        buses = {(bus.a, bus.b) for bus in device.parts.buses}
        for sense in device.parts.senses:
            when = subject.when(partial(joined_points, subject, a=sense.a, b=sense.b))
            bus = (sense.a, sense.b) in buses
            if not when or (not bus and when.settled != subject.solution.space.everywhere):
                continue
            answer = subject.solution.settled
            steps = way_between(subject, answer, when.settled, sense.a, sense.b)
            conductors = [step.conductor for step in steps if step.conductor is not None]
            what = "the two wires of its bus are" if bus else "its demand input is"
            effect = "so that nothing is heard over it" if bus else "so that it is called for good"
            yield Seen(
                path=conductors[0].path if conductors else device.path,
                key=not conductors,
                subject=device.name,
                message=f"{the_device(device)}: {what} joined"
                f"{'' if bus else ' in every state'}, {effect}: {way_words(subject, steps)}",
                holds=states_in_words(when.settled, subject.solution.space, subject.circuit).text,
            )


DEMAND_BRIDGED = Rule(
    name="demand-bridged",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A volt-free demand input is joined for good",
    why="The boiler is called day and night whatever the controls do. Often the link that the boiler came with was left in.",
    fix="Take the link out, once a control is wired to the two terminals.",
    source=COMMON_PRACTICE,
    limits="The two wires of a bus joined are found too: then no room unit is heard.",
    right=VOLT_FREE,
    wrong=change(
        VOLT_FREE, ("\nzones:\n", "  links:\n    - { ends: [boiler.call-a, boiler.call-b] }\n\nzones:\n")
    ),
    implied=("boiler-on-without-call",),
    look=_bridged,
)

EXTRA_LOW: tuple[Rule, ...] = (MAINS_ON_EXTRA_LOW_VOLTAGE, EXTRA_LOW_VOLTAGE_IN_MAINS_BOX)
"""Of the family of supply."""
EXTRA_LOW_CALLS: tuple[Rule, ...] = (DEMAND_BRIDGED,)
"""Of the family of calls."""
