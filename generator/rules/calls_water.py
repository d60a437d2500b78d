"""Rules on pumps: running with no call, against shut valves, or not at all; and on pump overrun.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Load, Role
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.rules.behaviour import (
    any_firing,
    call,
    calling,
    conductors_at,
    firing,
    first_answer,
    overrun_of,
    pump_loads,
    pumping,
    terminals_of,
    way_of_load,
    way_words,
)
from generator.rules.counter_example import counter_example
from generator.rules.example_house import HOUSE, OVERRUN, change, moved
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject, When
from generator.rules.states_in_words import states_in_words, when_in_words
from generator.rules.words import device_of, the_device
from generator.states.answer import Answer, Solution
from generator.states.water import water_answer
from generator.states.water_graph import BranchKind, water_branches


def _alone(subject: Subject, answer: Answer, load: Load, at: int) -> int:
    """The states in which a pump runs and no boiler fires."""
    return at & answer.fed[load.name] & ~any_firing(subject, answer)


def _pump_on(subject: Subject) -> Iterator[Seen]:
    quiet = subject.solution.space.everywhere & ~calling(subject)
    if not subject.circuit.zones:
        return
    for load in pump_loads(subject.circuit):
        when = subject.when(partial(_alone, subject, load=load, at=quiet))
        if not when:
            continue
        answer, vector = first_answer(subject, when)
        device = device_of(subject.circuit, load.name)
        conductors = conductors_at(subject.circuit, load.a)
        steps = way_of_load(subject, answer, vector, load)
        yield Seen(
            path=conductors[0].path if conductors else device.path,
            key=not conductors,
            subject=device.name,
            message=f"{the_device(device)} runs though no zone calls, by {way_words(subject, steps)}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, load.a),
        )


PUMP_ON_WITHOUT_CALL = Rule(
    name="pump-on-without-call",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A pump runs with no call",
    why="It wears out and takes power day and night, often against shut valves.",
    fix="Follow the path named. With no zone calling, boiler and pump must be off (interlock).",
    source="Approved Document L, volume 1 (2021), 5.15 and 5.25",
    limits="Pump overrun is not meant, and a pump that runs because the boiler does is found with the boiler.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: spur.L, core: BN }"),
    look=_pump_on,
)


def _no_bypass(subject: Subject) -> Severity | None:
    """How bad shut valves are: None with a bypass, a warning where nobody looked, the rule's own where there is none."""
    bypass = subject.circuit.water.bypass
    return {"none": Severity.ERROR, "not seen": Severity.WARNING}.get(bypass)


def _against(subject: Subject, answer: Answer) -> int:
    """The states in which a recorded pump runs and every circuit that it could drive is shut."""
    return pumping(subject, answer) & water_answer(subject.solution, answer).shut


_BYPASS_WORDS = {"none": "there is no bypass", "not seen": "whether there is a bypass was not seen"}


def _at_pump(subject: Subject, when: When, solution: Solution | None = None) -> str:
    """The counter-example at the first pump that is recorded; of a scenario, during overrun."""
    pumps = pump_loads(subject.circuit)
    lead = "during overrun" if solution is not None else ""
    return counter_example(subject, when, pumps[0].a if pumps else "", solution=solution, lead=lead)


def _shut_valves(subject: Subject) -> Iterator[Seen]:
    severity = _no_bypass(subject)
    if severity is None or not subject.circuit.water.circuits:
        return
    when = subject.when(lambda answer: _against(subject, answer))
    if when:
        yield Seen(
            path=("water", "bypass"),
            message=f"the pump runs with every valve shut, and {_BYPASS_WORDS[subject.circuit.water.bypass]}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=_at_pump(subject, when),
            severity=severity,
        )


PUMP_AGAINST_SHUT_VALVES = Rule(
    name="pump-against-shut-valves",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="The pump runs with every valve shut",
    why="Nothing moves: the pump churns the same water hot, valves hammer, and the boiler boils what stands in it.",
    fix="Find out why the pump runs with no valve open; an automatic bypass gives the water a way meanwhile.",
    source="Approved Document L, volume 1 (2021), 5.18 (minimum flow)",
    limits="Settled states only: while a valve is still opening nothing runs, since its end switch makes last.",
    right=HOUSE,
    wrong=change(
        moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: programmer.L, core: BN }"),
        ("  bypass: bypass\n", "  bypass: none\n"),
        ("  bypass: { kind: automatic-bypass }\n", ""),
    ),
    implied=("pump-on-without-call",),
    look=_shut_valves,
)


def _boiler_pumps(subject: Subject) -> tuple[Load, ...]:
    """The pumps that move water through the boiler; every pump where none of them does so by itself."""
    loads = pump_loads(subject.circuit)
    through = {
        name
        for branch in water_branches(subject.circuit)
        if branch.kind is BranchKind.PUMP and branch.start == "outlet"
        for name in branch.pumps
    }
    return tuple(load for load in loads if load.name in through) or loads


def _running(answer: Answer, pumps: tuple[Load, ...]) -> int:
    vector = 0
    for load in pumps:
        vector |= answer.fed[load.name]
    return vector


def _firing(subject: Subject, answer: Answer) -> int:
    """The states in which a boiler fires whose water the circuits share; not one with a loop of its own."""
    apart = {source.device for source in subject.circuit.water.sources}
    vector = 0
    for boiler in subject.circuit.with_duty(Duty.BOILER):
        if boiler.name not in apart:
            vector |= firing(answer, boiler)
    return vector


def _without_pump(subject: Subject) -> Iterator[Seen]:
    if not pump_loads(subject.circuit):
        return
    heating = 0
    pumped = {item.opens for item in subject.circuit.water.circuits if item.opens and not item.gravity}
    for zone in subject.circuit.zones:
        if zone.serves == "heating" or zone.opens in pumped:
            heating |= call(subject, zone)
    own = _boiler_pumps(subject)
    when = subject.when(lambda answer: heating & _firing(subject, answer) & ~_running(answer, own))
    if when:
        load = own[0]
        device = device_of(subject.circuit, load.name)
        conductors = conductors_at(subject.circuit, load.a)
        yield Seen(
            path=conductors[0].path if conductors else device.path,
            key=not conductors,
            subject=device.name,
            message=f"a zone calls, the boiler fires, and {the_device(device)} does not run",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, load.a),
        )


BOILER_ON_WITHOUT_PUMP = Rule(
    name="boiler-on-without-pump",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="The boiler fires and no pump runs",
    why="The radiators, or the water, stay cold, and the boiler overheats and locks out.",
    fix="Follow the pump's line to the end switches or to the boiler's pump output.",
    source=COMMON_PRACTICE,
    limits="Heating, and hot water whose circuit is recorded and not by gravity. Keeps quiet where no pump is recorded, and "
    "of another source of heat with a loop of its own.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: water-thermostat.call, core: BK }"),
    look=_without_pump,
)


def _overruns(subject: Subject) -> Iterator[tuple[PlacedDevice, str]]:
    for boiler in subject.circuit.with_duty(Duty.BOILER):
        overrun = overrun_of(boiler)
        if overrun:
            yield boiler, overrun


def _without_path(subject: Subject) -> Iterator[Seen]:
    severity = _no_bypass(subject)
    if severity is None or not subject.circuit.water.circuits:
        return
    before = subject.ever(lambda answer: _against(subject, answer))
    for boiler, overrun in _overruns(subject):
        solution = subject.scenario(overrun, True)
        vector = subject.ever(lambda answer: _against(subject, answer), solution) & ~before
        if vector:
            yield Seen(
                path=boiler.path,
                key=True,
                subject=boiler.name,
                message=f"{the_device(boiler)} runs the pump on with every valve shut, and "
                f"{_BYPASS_WORDS[subject.circuit.water.bypass]}",
                holds=f"during overrun, {states_in_words(vector, solution.space, subject.circuit).text}",
                example=_at_pump(subject, When(vector & solution.settled.at), solution),
                # Nobody having looked for a bypass is no fault yet.
                severity=Severity.NOTE if severity is Severity.WARNING else severity,
            )


_NO_BYPASS = (("  bypass: bypass\n", "  bypass: none\n"), ("  bypass: { kind: automatic-bypass }\n", ""))

OVERRUN_WITHOUT_PATH = Rule(
    name="overrun-without-path",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="Pump overrun has no way for the water",
    why="When the last call ends all valves shut and the pump runs on against them: the heat it should carry away stays in "
    "the boiler, which locks out on overheat.",
    fix="Fit an automatic bypass, or leave one circuit without a valve; or record the bypass that is there.",
    source="Approved Document L, volume 1 (2021), 5.18 (minimum flow)",
    limits="A note where nobody looked for a bypass.",
    right=OVERRUN,
    wrong=change(OVERRUN, *_NO_BYPASS),
    look=_without_path,
)


def _stands_still(subject: Subject, boiler: PlacedDevice, answer: Answer) -> int:
    """The states in which a boiler neither fires nor runs any pump, its permanent live being there."""
    vector = answer.at & ~firing(answer, boiler)
    for place in terminals_of(subject.circuit, boiler.name):
        if place.terminal.role is Role.PERMANENT_LINE:
            vector &= answer.line[place.ref]
    return vector & ~pumping(subject, answer)


def _not_run(subject: Subject) -> Iterator[Seen]:
    if not pump_loads(subject.circuit):
        return
    for boiler, overrun in _overruns(subject):
        solution = subject.scenario(overrun, True)
        vector = subject.ever(partial(_stands_still, subject, boiler), solution)
        if vector:
            device = device_of(subject.circuit, pump_loads(subject.circuit)[0].name)
            conductors = conductors_at(subject.circuit, pump_loads(subject.circuit)[0].a)
            yield Seen(
                path=conductors[0].path if conductors else device.path,
                key=not conductors,
                subject=device.name,
                message=f"{the_device(boiler)} runs its pump output on and {the_device(device)} stands still",
                holds=f"during overrun, {states_in_words(vector, solution.space, subject.circuit).text}",
                example=_at_pump(subject, When(vector & solution.settled.at), solution),
            )


OVERRUN_DOES_NOT_RUN_THE_PUMP = Rule(
    name="overrun-does-not-run-the-pump",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="Pump overrun does not reach the pump",
    why="The pump stops with the call and the boiler is left hot with standing water: it locks out on overheat.",
    fix="Put the pump's line on the boiler's pump output and nowhere else.",
    source=COMMON_PRACTICE,
    limits="Only boilers that are recorded to have overrun.",
    right=OVERRUN,
    wrong=moved(OVERRUN, "- { to: pump.L, core: BN }", after="- { to: boiler.call, core: BK }"),
    look=_not_run,
)

CALLS_WATER: tuple[Rule, ...] = (
    PUMP_ON_WITHOUT_CALL,
    PUMP_AGAINST_SHUT_VALVES,
    BOILER_ON_WITHOUT_PUMP,
    OVERRUN_WITHOUT_PATH,
    OVERRUN_DOES_NOT_RUN_THE_PUMP,
)
