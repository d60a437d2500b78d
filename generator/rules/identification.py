"""Rules on the identification of conductors: which colour may do what.

Knows these rules only. Goes by what a conductor carries in the solved states, never by where it was meant to go.
"""

from collections import defaultdict
from collections.abc import Iterator
from functools import partial

from generator.circuit.model import Conductor
from generator.findings.finding import Severity
from generator.rules.behaviour import live
from generator.rules.counter_example import shown_live
from generator.rules.example_house import HOUSE, change
from generator.rules.joins import sort_of
from generator.rules.polarity import reversed_at_supply
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import colour_of, colour_words, conductor_name, the_conductor
from generator.states.answer import Answer

EARTH_CORE = "GNYE"
_NEUTRAL_COLOURS = ("BU",)
_OLD_NEUTRAL = "BK"
_OLD_LINE = "RD"
_LINE_COLOURS = ("BN", "RD")


def _ever_line(subject: Subject, conductor: Conductor) -> int:
    return live(subject, conductor.a)


def _ever_neutral(subject: Subject, conductor: Conductor) -> int:
    return subject.ever(lambda answer: answer.neutral[conductor.a])


def _not_neutral(answer: Answer, ref: str) -> int:
    return answer.at & ~answer.neutral[ref]


def _ever_earth(subject: Subject, conductor: Conductor) -> int:
    return subject.ever(lambda answer: answer.earth[conductor.a])


def _cores(subject: Subject) -> Iterator[Conductor]:
    return (item for item in subject.circuit.conductors if not item.is_link)


def _words(subject: Subject, vector: int) -> str:
    return states_in_words(vector, subject.solution.space, subject.circuit).text


def _green_and_yellow(subject: Subject) -> Iterator[Seen]:
    for item in _cores(subject):
        if colour_of(item.core) != EARTH_CORE:
            continue
        line, neutral = _ever_line(subject, item), _ever_neutral(subject, item)
        sorts = {sort_of(subject.circuit, item.a), sort_of(subject.circuit, item.b)}
        if "earth" in sorts and not sorts & {"line", "neutral"}:
            # Its own end is right: where it meets the line is for the rules on earths.
            continue
        if line:
            what, vector = "is live", line
        elif neutral and not _ever_earth(subject, item):
            what, vector = "is a neutral", 0
        elif sorts & {"line", "neutral"}:
            what, vector = "ends at a terminal that is no earth", 0
        else:
            continue
        yield Seen(
            path=item.path,
            subject=conductor_name(item),
            message=f"{the_conductor(item)} {what} (`{item.a}` to `{item.b}`)",
            holds=_words(subject, vector) if vector else "",
            example=shown_live(subject, item.a) if vector else "",
        )


GREEN_YELLOW_NOT_EARTH = Rule(
    name="green-yellow-not-earth",
    family=Family.IDENTIFICATION,
    severity=Severity.ERROR,
    summary="A green-and-yellow core is not an earth",
    why="Everybody trusts that colour with their life and takes hold of it. Sleeving does not help: it comes off.",
    fix="Use another core, or another cable with enough cores. Do not sleeve it over.",
    source="BS 7671, 514.4.2",
    limits="The clause speaks of single-core cables; whether a core of a cord may be sleeved is argued. Here it may not.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("{ to: room-thermostat.call, core: BK }", "{ to: room-thermostat.call, core: GNYE, sleeve: BN }"),
    ),
    look=_green_and_yellow,
)


def _old_colours(subject: Subject, item: Conductor) -> bool:
    """Whether the cable has red and black cores and no blue one, as fixed wiring had before 2006."""
    cable = next((each for each in subject.circuit.cables if each.name == item.cable), None)
    cores = {colour_of(each.core) for each in _cores(subject) if each.cable == item.cable}
    cores |= {colour_of(core) for core in (cable.cores or ())} if cable else set()
    return {_OLD_LINE, _OLD_NEUTRAL} <= cores and not cores & set(_NEUTRAL_COLOURS)


def _blue_as_line(subject: Subject) -> Iterator[Seen]:
    if subject.once(reversed_at_supply):
        return
    for item in _cores(subject):
        colour = colour_of(item.core)
        if colour not in _NEUTRAL_COLOURS and not (colour == _OLD_NEUTRAL and _old_colours(subject, item)):
            continue
        vector = _ever_line(subject, item)
        if not vector or _ever_neutral(subject, item):
            continue
        sleeve = colour_of(item.sleeve)
        sleeved = sleeve not in ("", colour, EARTH_CORE, *_NEUTRAL_COLOURS)
        state = f"sleeved {colour_words(sleeve)}" if sleeved else "not sleeved"
        yield Seen(
            path=item.path,
            subject=conductor_name(item),
            message=f"{the_conductor(item)} is a line conductor, {state} (`{item.a}` to `{item.b}`)",
            holds=_words(subject, vector),
            example=shown_live(subject, item.a),
            severity=Severity.WARNING if sleeved else None,
        )


BLUE_CORE_AS_LINE = Rule(
    name="blue-core-as-line",
    family=Family.IDENTIFICATION,
    severity=Severity.ERROR,
    summary="A blue core is used as line",
    why="The next engineer takes blue for neutral and handles it, or lands it in the neutral terminal.",
    fix="Sleeve it brown at both ends and record `sleeve: BN`, which leaves a warning; better, use a cable that has the cores.",
    source="BS 7671, 514.3.1",
    limits="Black counts where the cable also has a red core and no blue one, as fixed wiring had before 2006. Line and "
    "neutral reversed at the supply are another rule's.",
    right=HOUSE,
    wrong=change(HOUSE, ("{ to: room-thermostat.call, core: BK }", "{ to: room-thermostat.call, core: BU }")),
    look=_blue_as_line,
)


def _brown_as_neutral(subject: Subject) -> Iterator[Seen]:
    if subject.once(reversed_at_supply):
        return
    for item in _cores(subject):
        if colour_of(item.core) not in _LINE_COLOURS or _ever_line(subject, item):
            continue
        # Beyond a switch a core is neutral at times because of one before it, which is told.
        if not _ever_neutral(subject, item) or subject.ever(partial(_not_neutral, ref=item.a)):
            continue
        sleeved = colour_of(item.sleeve) in (*_NEUTRAL_COLOURS, _OLD_NEUTRAL)
        state = f"sleeved {colour_words(item.sleeve)}" if sleeved else "not sleeved"
        yield Seen(
            path=item.path,
            subject=conductor_name(item),
            message=f"{the_conductor(item)} is a neutral, {state} (`{item.a}` to `{item.b}`)",
            severity=Severity.WARNING if sleeved else None,
        )


BROWN_CORE_AS_NEUTRAL = Rule(
    name="brown-core-as-neutral",
    family=Family.IDENTIFICATION,
    severity=Severity.ERROR,
    summary="A brown or red core is used as neutral",
    why="The next engineer takes it for line and lands it with the lines: line and neutral are then joined.",
    fix="Use the blue core, or sleeve this one blue at both ends and record it.",
    source="BS 7671, 514.3.1",
    limits="Goes by the colour recorded, not by what sleeve or age has made of it.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("- { to: pump.L, core: BN }", "- { to: pump.L, core: BK }"),
        ("- { to: pump.N, core: BU }", "- { to: pump.N, core: BN }"),
    ),
    look=_brown_as_neutral,
)


def _earth_core(subject: Subject) -> Iterator[Seen]:
    for item in _cores(subject):
        sorts = {sort_of(subject.circuit, item.a), sort_of(subject.circuit, item.b)}
        if EARTH_CORE in (colour_of(item.core), item.sleeve) or sorts & {"line", "neutral"}:
            continue
        if _ever_earth(subject, item) and not (_ever_line(subject, item) or _ever_neutral(subject, item)):
            yield Seen(
                path=item.path,
                subject=conductor_name(item),
                message=f"{the_conductor(item)} is an earth (`{item.a}` to `{item.b}`)",
            )


EARTH_CORE_NOT_GREEN_AND_YELLOW = Rule(
    name="earth-core-not-green-and-yellow",
    family=Family.IDENTIFICATION,
    severity=Severity.WARNING,
    summary="An earth is not green-and-yellow",
    why="The next engineer does not know that it is an earth and may use it for something else.",
    fix="Use the green-and-yellow core. A bare protective core is sleeved green-and-yellow: record `sleeve: GNYE`.",
    source="BS 7671, 514.4.2",
    limits="Goes by the colour recorded. Bare earths inside a sheath have to be recorded by their sleeve.",
    right=HOUSE,
    wrong=change(HOUSE, ("- { to: pump.E, core: GNYE }", "- { to: pump.E, core: GN }")),
    look=_earth_core,
)


def _not_in_cable(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    stated = {cable.name: cable.cores for cable in circuit.cables if cable.cores is not None}
    used = [(item.cable, item.core, item.path, conductor_name(item)) for item in _cores(subject)]
    used += [(item.cable, item.core, item.path, f"{item.cable} {item.core}") for item in circuit.spare]
    for cable, core, path, name in used:
        if cable in stated and core not in stated[cable]:
            listed = " ".join(stated[cable]) or "none"
            yield Seen(
                path=path,
                subject=name,
                message=f"cable `{cable}` has no core {core}; its cores are recorded as {listed}",
            )


CORE_NOT_IN_CABLE = Rule(
    name="core-not-in-cable",
    family=Family.IDENTIFICATION,
    severity=Severity.ERROR,
    summary="A conductor is of a core that its cable does not have",
    why="One of the two lines of the record is wrong, and whoever reads it looks for a core that is not there.",
    fix="Correct the core, name the cable that it is of, or complete the cable's cores.",
    source=COMMON_PRACTICE,
    limits="Only where the cores of the cable are recorded.",
    right=HOUSE,
    wrong=change(HOUSE, ("{ to: heating-valve.motor, core: BN }", "{ to: heating-valve.motor, core: WH }")),
    implied=("core-landed-nowhere",),
    look=_not_in_cable,
)


def _alike(subject: Subject) -> Iterator[Seen]:
    numbered = {cable.name for cable in subject.circuit.cables if cable.numbered}
    groups: dict[tuple[str, str], list[Conductor]] = defaultdict(list)
    for item in _cores(subject):
        if item.cable not in numbered and colour_of(item.core) != EARTH_CORE:
            groups[item.cable, colour_of(item.core)].append(item)
    for (cable, colour), items in groups.items():
        plain = [item for item in items if not item.sleeve]
        marks = [item.sleeve for item in items if item.sleeve]
        if len(items) < 2 or (len(plain) <= 1 and len(set(marks)) == len(marks)):
            continue
        last = items[-1]
        yield Seen(
            path=last.path,
            subject=conductor_name(last),
            message=f"cable `{cable}` has {len(items)} {colour_words(colour)} cores and nothing tells them apart",
            related=tuple((item.path, "another of them") for item in items[:-1]),
        )


ALIKE_CORES_UNMARKED = Rule(
    name="alike-cores-unmarked",
    family=Family.IDENTIFICATION,
    severity=Severity.WARNING,
    summary="Two cores of one colour in one cable are not marked",
    why="Taken out of their terminals once, they can be put back the wrong way round.",
    fix="Sleeve or number them at both ends; record `sleeve` on them, or `numbered: true` on the cable.",
    source="BS 7671, 514.3.1",
    limits="Landed cores only. Cables whose cores are recorded as numbered are left out.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("{ to: programmer.on-1, core: BK }", "{ to: programmer.on-1, core: GY1 }"),
        ("{ to: programmer.on-2, core: GY }", "{ to: programmer.on-2, core: GY2 }"),
    ),
    look=_alike,
)

IDENTIFICATION: tuple[Rule, ...] = (
    GREEN_YELLOW_NOT_EARTH,
    BLUE_CORE_AS_LINE,
    BROWN_CORE_AS_NEUTRAL,
    EARTH_CORE_NOT_GREEN_AND_YELLOW,
    CORE_NOT_IN_CABLE,
    ALIKE_CORES_UNMARKED,
)
