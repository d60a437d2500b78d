"""All that pages show of a solved circuit as data: states, readings, tables, stories and drawings; the same for records alike."""

from dataclasses import dataclass

from generator.drawings.call_map_model import CallMap
from generator.drawings.ladder_model import Ladder
from generator.drawings.terminal_model import TerminalDrawing
from generator.drawings.water_model import WaterDrawing
from generator.states.answer import Solution
from generator.states.volts_meter import LOW_IMPEDANCE
from generator.views.call_chain import call_map
from generator.views.drawing_input import terminal_drawing, zone_groups
from generator.views.history import History, histories, with_histories
from generator.views.ladder_input import ladder
from generator.views.readings import StateReadings, read_states
from generator.views.shown_states import ShownState, shown_states
from generator.views.story import ZoneStory, zone_stories
from generator.views.table import CentreTable, centre_tables, device_tables
from generator.views.timelines import ShownTimeline, change_overs, zone_timelines
from generator.views.water_input import water_drawing
from generator.views.water_words import water_sentences


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
    histories: tuple[History, ...]


def solved_view(solution: Solution, address: str) -> Solved:
    """All that pages show of a solved circuit.

    Args:
        solution: The circuit in every state.
        address: Of the property, for the titles of drawings.
    """
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
        histories=histories(solution, states),
    )
