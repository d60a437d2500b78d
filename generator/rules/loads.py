"""Rules on loads: more current than a fuse or a contact is made for, and too few volts at the far end.

Knows these rules only.
"""

from collections.abc import Iterator

from generator.catalogue.cords import CORDS
from generator.catalogue.parts import Load, Supply
from generator.circuit.model import CableFacts
from generator.findings.finding import Severity
from generator.rules.behaviour import rated_a
from generator.rules.currents import Drawn, alike, current_a, over, sum_of
from generator.rules.example_house import HOUSE, IMMERSION, change
from generator.rules.joins import lines_joined
from generator.rules.rule import FROM_MEMORY, Family, Rule, Seen, Subject, sound
from generator.rules.states_in_words import states_in_words
from generator.rules.words import and_so_on, device_of, the_device, the_load
from generator.states.answer import Answer
from generator.states.drop import OTHER_LIMIT, voltage_drop_v
from generator.states.mains import NOMINAL_V
from generator.states.network import energised, fold
from generator.states.space import fewest_on
from generator.states.trace import why_fed

FUSE_ALLOWANCE = 1.01
"""A 3 kW heater draws 13.04 A at 230 V and is fed through 13 A by common practice."""


def _on_supply(answer: Answer, supply: Supply, load: Load) -> int:
    """The states in which a load takes its line from a supply."""
    here = answer.joined[supply.line]
    return (here[load.a] | here[load.b]) & answer.fed[load.name]


def _drawn(subject: Subject, answer: Answer, supply: Supply) -> list[Drawn]:
    at = sound(answer, subject.solution) & ~lines_joined(answer, subject.circuit)
    return [(_on_supply(answer, supply, load) & at, current_a(load)) for load in subject.circuit.loads]


def _over_fuse(subject: Subject) -> Iterator[Seen]:
    for supply in subject.circuit.supplies:
        device = device_of(subject.circuit, supply.name)
        fuse = rated_a(device)
        passing, most = 0, 0.0
        for answer in subject.solution.answers:
            states, amps = over(_drawn(subject, answer, supply), fuse * FUSE_ALLOWANCE)
            passing, most = passing | states, max(most, amps)
        if passing:
            yield Seen(
                path=device.path,
                key=True,
                subject=device.name,
                message=f"the loads of {the_device(device)} draw {most:.1f} A together through a fuse of {fuse:g} A",
                holds=states_in_words(passing, subject.solution.space, subject.circuit).text,
            )


LOAD_OVER_FUSE = Rule(
    name="load-over-fuse",
    family=Family.LOADS,
    severity=Severity.ERROR,
    summary="The loads draw more than the fuse",
    why="The fuse gets hot and blows in the end, mostly on the coldest night when everything runs.",
    fix="Put the large load on a spur of its own; do not fit a larger fuse for small cores.",
    source=FROM_MEMORY,
    limits="Powers as recorded or as the kind of device states, at 230 V; a hundredth over is allowed, since a 3 kW "
    "heater draws 13.04 A. Currents at switching on are left out.",
    right=IMMERSION,
    wrong=change(
        IMMERSION,
        (
            "settings: { fuse_a: 13, feeds: immersion heater }",
            "settings: { fuse_a: 10, feeds: immersion heater }",
        ),
    ),
    look=_over_fuse,
)


def _through(subject: Subject, answer: Answer, index: int) -> list[Drawn]:
    """What flows through one contact: the loads that would not be fed, were it never made."""
    circuit, everywhere = subject.circuit, subject.solution.space.everywhere
    network = fold(circuit)
    made = [answer.made[item.name] for item in circuit.contacts]
    made[index] = 0

    def reach(points: list[str]) -> dict[str, int]:
        groups = network.reach(points, made, everywhere)
        return {node: groups[group] for node, group in network.group.items()}

    line = reach([supply.line for supply in circuit.supplies])
    back = reach([point for supply in circuit.supplies for point in (supply.neutral, supply.earth)])
    at = sound(answer, subject.solution)
    return [
        (answer.fed[load.name] & ~energised(load, line, back, everywhere) & at, current_a(load))
        for load in circuit.loads
    ]


def _contact_overloaded(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    for index, contact in enumerate(circuit.contacts):
        if contact.rated_a is None:
            continue
        passing, most = 0, 0.0
        for answer in subject.solution.answers:
            reaching = [
                supply for supply in circuit.supplies if answer.joined[supply.line][contact.a] & answer.at
            ]
            bound = sum(sum_of(_drawn(subject, answer, supply)) for supply in reaching)
            if bound <= contact.rated_a:
                continue
            states, amps = over(_through(subject, answer, index), contact.rated_a)
            passing, most = passing | states, max(most, amps)
        if passing:
            device = device_of(circuit, contact.name)
            yield Seen(
                path=device.path,
                key=True,
                subject=device.name,
                message=f"the {contact.words} of {the_device(device)} carries {most:.1f} A and is rated {contact.rated_a:g} A",
                holds=states_in_words(passing, subject.solution.space, circuit).text,
            )


CONTACT_OVERLOADED = Rule(
    name="contact-overloaded",
    family=Family.LOADS,
    severity=Severity.ERROR,
    summary="A contact carries more than it is made for",
    why="It burns or welds shut: what it switches then never goes off.",
    fix="Put a relay or contactor between the contact and the load.",
    source=FROM_MEMORY,
    limits="The resistive rating, and loads that nothing but this contact feeds in that state. Currents at switching on "
    "are left out.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        (
            "boiler: { kind: boiler }",
            "boiler: { kind: boiler, settings: { permanent_live: false, watts: 400 } }",
        ),
        ("        - { to: boiler.L, core: BN }\n", ""),
        (
            "heating-valve: { kind: two-port-valve }",
            "heating-valve: { kind: two-port-valve, settings: { switch_a: 1 } }",
        ),
    ),
    look=_contact_overloaded,
)


def _drops(
    subject: Subject, answer: Answer, state: int, cables: dict[str, CableFacts]
) -> dict[str, tuple[float, set[str]]]:
    """For each load the volts lost on its way in one state, and the cables in which they are lost."""
    traces = [
        (load, trace)
        for load in subject.circuit.loads
        if answer.fed[load.name] >> state & 1
        and (trace := why_fed(subject.circuit, answer, state, load)) is not None
    ]
    carried: dict[int, complex] = {}
    for load, trace in traces:
        for step in (*trace.out, *trace.back):
            if step.conductor is not None:
                carried[step.conductor.index] = carried.get(step.conductor.index, 0j) + current_a(load)
    result = {}
    for load, trace in traces:
        lost, through = 0.0, set()
        for step in (*trace.out, *trace.back):
            cable = cables.get(step.conductor.cable) if step.conductor else None
            if step.conductor is not None and cable is not None:
                lost += _lost_v(cable, abs(carried[step.conductor.index])) / 2
                through.add(cable.name)
        result[load.name] = (lost, through)
    return result


def _lost_v(cable: CableFacts, amps: float) -> float:
    """The volts lost out and back in a cable whose size and length are recorded."""
    cord = next(cord for cord in CORDS if cord.size_mm2 == cable.size_mm2)
    return voltage_drop_v(cord.drop_mv_per_a_m, amps, cable.length_m or 0.0)


def _volt_drop(subject: Subject) -> Iterator[Seen]:
    limit = NOMINAL_V * OTHER_LIMIT
    cables = {
        cable.name: cable
        for cable in subject.circuit.cables
        if cable.size_mm2 is not None and cable.length_m is not None
    }
    if not cables:
        return
    worst: dict[str, tuple[float, set[str]]] = {}
    where: dict[str, int] = {}
    for answer in subject.solution.answers:
        at = sound(answer, subject.solution)
        together = max(
            (sum_of(_drawn(subject, answer, supply)) for supply in subject.circuit.supplies), default=0.0
        )
        if sum(_lost_v(cable, together) for cable in cables.values()) <= limit:
            continue
        for states in alike([answer.fed[load.name] & at for load in subject.circuit.loads], at):
            for name, (lost, through) in _drops(subject, answer, fewest_on(states) or 0, cables).items():
                if lost > limit:
                    where[name] = where.get(name, 0) | states
                    if name not in worst or lost > worst[name][0]:
                        worst[name] = (lost, through)
    for load in subject.circuit.loads:
        if load.name not in worst:
            continue
        lost, through = worst[load.name]
        device = device_of(subject.circuit, load.name)
        named = [cable for cable in cables.values() if cable.name in through]
        longest = max(named, key=lambda cable: cable.length_m or 0.0)
        yield Seen(
            path=(*longest.path, "length_m"),
            subject=device.name,
            message=f"{the_load(subject.circuit, load)} loses {lost:.1f} V on its way, in "
            f"{and_so_on(f'cable `{cable.name}`' for cable in named)}; {limit:g} V is the most",
            holds=states_in_words(where[load.name], subject.solution.space, subject.circuit).text,
        )


VOLT_DROP_OVER_LIMIT = Rule(
    name="volt-drop-over-limit",
    family=Family.LOADS,
    severity=Severity.WARNING,
    summary="Too many volts are lost on the way",
    why="Motors do not start or hold, relays chatter, and electronics resets itself, mostly when everything runs.",
    fix="Use a larger core on the long run.",
    source="BS 7671, Appendix 4, Table 4Ab (5 % of 230 V) and Table 4F3B (flexible cords)",
    limits="Counts from the fused spur, not from the origin of the installation, and only cables whose size and length are "
    "recorded; flat cable is reckoned as cord, which is a little worse.",
    right=IMMERSION,
    wrong=change(
        IMMERSION,
        ("\nwiring:\n", "  immersion: { size_mm2: 1.5, length_m: 30 }\n\nwiring:\n"),
    ),
    look=_volt_drop,
)

LOADS: tuple[Rule, ...] = (LOAD_OVER_FUSE, CONTACT_OVERLOADED, VOLT_DROP_OVER_LIMIT)
