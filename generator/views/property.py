"""Everything that the pages of one property show, as data; made from what the pipeline found."""

from dataclasses import dataclass
from hashlib import sha256
from json import dumps
from urllib.parse import quote

from generator.drawings.call_map_model import CallMap
from generator.drawings.ladder_model import Ladder
from generator.drawings.terminal_model import TerminalDrawing
from generator.drawings.water_model import WaterDrawing
from generator.findings.finding import Finding, Severity
from generator.pipeline import Examination
from generator.record.load import LoadedRecord
from generator.record.model import Record
from generator.rules.record_itself import SECRET_IN_RECORD
from generator.states.answer import Solution
from generator.states.space import fewest_on
from generator.states.volts_meter import LOW_IMPEDANCE
from generator.views.call_chain import call_map
from generator.views.drawing_input import terminal_drawing, zone_groups
from generator.views.glance import Glance, address_line, glance
from generator.views.history import History, histories, with_histories
from generator.views.ladder_input import ladder
from generator.views.proofs import Proofs, proofs
from generator.views.readings import StateReadings, read_states
from generator.views.shown_states import ShownState, shown_states
from generator.views.story import ZoneStory, zone_stories
from generator.views.table import CentreTable, centre_tables, device_tables
from generator.views.timelines import ShownTimeline, change_overs, zone_timelines
from generator.views.water_input import water_drawing
from generator.views.water_words import water_sentences

UNREAD_ADDRESS = "Address not read"
WITHHELD_ADDRESS = "Address withheld"
_NOT_READ = "Not shown: the file could not be read."


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """What needs the circuit solved."""

    solution: Solution
    states: tuple[ShownState, ...]
    read: tuple[StateReadings, ...]
    read_low: tuple[StateReadings, ...]
    centres: tuple[CentreTable, ...]
    devices: tuple[CentreTable, ...]
    stories: tuple[ZoneStory, ...]
    call_map: CallMap | None
    ladder: Ladder | None
    water: WaterDrawing | None
    water_says: tuple[str, ...]
    timelines: tuple[ShownTimeline, ...]
    change_overs: tuple[ShownTimeline, ...]
    drawing: TerminalDrawing | None
    groups: tuple[tuple[str, str], ...]
    proofs: Proofs | None
    covered: str
    histories: tuple[History, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyView:
    """All that the pages of one property show.

    ``record`` and ``glance`` are None where the record's shape is wrong, ``solved`` where any value or
    name in it is; ``findings`` then says what to correct. ``revision`` is of the record with its house type.
    """

    reference: str
    address: str
    revision: str
    record: Record | None
    findings: tuple[Finding, ...]
    glance: Glance | None
    solved: Solved | None
    text: str
    file: str

    @property
    def folder(self) -> str:
        """The reference as it stands in an address."""
        return quote(self.reference, safe="")

    @property
    def worst(self) -> Severity | None:
        """The worst severity of its findings."""
        return max((finding.severity for finding in self.findings), default=None)


def property_view(examination: Examination, *, stem: str, solved: Solved | None = None) -> PropertyView:
    """The view of an examined record.

    Args:
        examination: What the pipeline found.
        stem: The name of the record's file without its ending.
        solved: What needs the circuit solved, where it has been worked out for a record alike; worked out now if None.
    """
    if gives_away(examination.findings):
        return _withheld(examination, stem)
    record = examination.record
    solution = examination.solution
    return PropertyView(
        reference=stem,
        address=address_line(record) if record else UNREAD_ADDRESS,
        revision=revision(examination.loaded),
        record=record,
        findings=examination.findings,
        glance=glance(record, examination.circuit, solution, examination.findings) if record else None,
        solved=(solved or _solved(solution, address_line(record), proofs(examination)))
        if solution and record
        else None,
        text=examination.loaded.text if examination.loaded.document is not None else _NOT_READ,
        file=examination.loaded.file,
    )


def gives_away(findings: tuple[Finding, ...]) -> bool:
    """Whether a secret or a person's data is in the record, and the firm has not accepted that it is none."""
    return any(f.rule == SECRET_IN_RECORD.name and f.severity >= Severity.ERROR for f in findings)


def _withheld(examination: Examination, stem: str) -> PropertyView:
    """A record that is refused: its page says what is wrong and shows nothing that was written."""
    return PropertyView(
        reference=stem,
        address=WITHHELD_ADDRESS,
        revision=revision(examination.loaded),
        record=None,
        findings=tuple(f for f in examination.findings if f.rule == SECRET_IN_RECORD.name),
        glance=None,
        solved=None,
        text="Withheld: the record seems to hold a secret or a person's data, which do not belong in it.",
        file=examination.loaded.file,
    )


def revision(loaded: LoadedRecord) -> str:
    """Eight hexadecimal digits that change with anything in the record or its house type."""
    if loaded.document is None:
        return sha256(loaded.text.encode()).hexdigest()[:8]
    return sha256(dumps(loaded.document.data, ensure_ascii=False).encode()).hexdigest()[:8]


def _solved(solution: Solution, address: str, proved: Proofs | None) -> Solved:
    circuit = solution.circuit
    states = with_histories(solution, shown_states(circuit))
    read = read_states(solution, states)
    stories = zone_stories(solution, states)
    return Solved(
        solution=solution,
        states=states,
        read=read,
        read_low=read_states(solution, states, meter=LOW_IMPEDANCE),
        centres=centre_tables(solution, read),
        devices=device_tables(solution, read),
        stories=stories,
        call_map=call_map(solution, states, stories, title=f"Call map, {address}"),
        ladder=ladder(solution, states, title=f"Ladder, {address}"),
        water=water_drawing(solution, states, title=f"Water side, {address}"),
        water_says=water_sentences(solution),
        timelines=zone_timelines(solution),
        change_overs=change_overs(solution),
        drawing=terminal_drawing(solution, states, title=f"Terminal wiring, {address}"),
        groups=zone_groups(circuit),
        proofs=proved,
        covered=covered(solution),
        histories=histories(solution, states),
    )


def covered(solution: Solution) -> str:
    """What was solved, in one or more sentences: how many states, and which of them hunt or depend on history."""
    count = solution.space.size
    sentence = (
        f"Solved in all {count:,} combinations of {len(solution.space.inputs)} controls."
        if count > 1
        else "Solved in its only state."
    )
    if solution.hunting:
        first = fewest_on(solution.hunting)
        sentence += (
            f" In {solution.hunting.bit_count():,} of them it never comes to rest"
            f"{'' if first is None else f' (state {first})'}."
        )
    remembered = 0
    for memory in solution.memories:
        remembered |= memory.answer.at
    if remembered:
        sentence += f" In {remembered.bit_count():,} of them the result depends on what came before."
    return sentence
