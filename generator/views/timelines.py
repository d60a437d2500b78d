"""A call second by second as a page shows it: a drawing, the same as a list, and what is live only on the way."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import inf

from generator.circuit.model import Circuit, ZoneIntent
from generator.drawings.time_axis import duration
from generator.drawings.timeline_model import Bar, BarKind, Mark, TimelineDrawing, TimelineRow
from generator.states.answer import Solution
from generator.states.timeline import Brief, Change, Timeline, moment_in, run, simulate_call
from generator.views.wording import Naming, capital, listed, lower

_PORTS = ("open-heating", "open-water")


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeStep:
    """What changes at one moment."""

    at: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTimeline:
    """One simulated run. ``zone`` is the zone whose call it is, empty for a change-over; ``notes`` are sentences."""

    zone: str
    heading: str
    drawing: TimelineDrawing
    steps: tuple[TimeStep, ...]
    notes: tuple[str, ...]


def zone_timelines(solution: Solution) -> tuple[ShownTimeline, ...]:
    """A call of each zone from rest and its end; zones whose call changes nothing are left out."""
    found = []
    for number, zone in enumerate(solution.circuit.zones, 1):
        call = simulate_call(solution, zone.call_inputs) if zone.call_inputs else None
        if call is None or not call.timeline.changes:
            continue
        marks = [Mark(at_s=0.0, words="call begins"), Mark(at_s=call.ended_s, words="call ends")]
        notes = [_unfinished(call.timeline)] if not call.timeline.quiet else []
        if call.overrun_s:
            notes.append(f"The overrun is taken as lasting its whole time, {duration(call.overrun_s)}.")
        found.append(
            _shown(
                solution.circuit,
                call.timeline,
                zone=zone.name,
                heading=f"A call of {lower(zone.words)}, second by second",
                prefix=f"time-{number}",
                marks=marks,
                notes=notes,
            )
        )
    return tuple(found)


def change_overs(solution: Solution) -> tuple[ShownTimeline, ...]:
    """For each valve with three ports: from heating alone to hot water alone, and what is live on the way."""
    found = []
    for number, (heating, water) in enumerate(_pairs(solution.circuit), 1):
        state = solution.space.state(heating.call_inputs)
        if not solution.settled.at >> state & 1:
            continue
        changes: Mapping[str, bool] = {
            **dict.fromkeys(heating.call_inputs, False),
            **dict.fromkeys(water.call_inputs, True),
        }
        went = run(
            solution.circuit,
            moment_in(solution, solution.settled, state),
            [(0.0, changes)],
            unsure=solution.unsure,
        )
        found.append(
            _shown(
                solution.circuit,
                went,
                zone="",
                heading=f"From {lower(heating.words)} alone to {lower(water.words)} alone, second by second",
                prefix=f"over-{number}",
                marks=[Mark(at_s=0.0, words="change")],
                notes=[] if went.quiet else [_unfinished(went)],
            )
        )
    return tuple(found)


def _unfinished(timeline: Timeline) -> str:
    return f"It does not come to rest: given up after {duration(timeline.ends_s)}."


def _pairs(circuit: Circuit) -> list[tuple[ZoneIntent, ZoneIntent]]:
    """The heating and the hot water zone that share a valve with a port for each."""
    zones = [zone for zone in circuit.zones if zone.call_inputs and zone.valve]
    return [
        (heating, water)
        for heating in zones
        for water in zones
        if heating.valve == water.valve
        and (heating.opens, water.opens) == tuple(f"{heating.valve}.{port}" for port in _PORTS)
    ]


def _shown(
    circuit: Circuit,
    timeline: Timeline,
    *,
    zone: str,
    heading: str,
    prefix: str,
    marks: Sequence[Mark],
    notes: Sequence[str],
) -> ShownTimeline:
    end_s = max(timeline.ends_s, *(mark.at_s for mark in marks)) + 5.0
    naming = Naming(circuit)
    rows = tuple(_rows(circuit, timeline)) + tuple(
        TimelineRow(
            id=f"b{index}",
            name=naming.label(brief.point),
            detail="live on the way",
            bars=(Bar(from_s=brief.from_s, to_s=brief.to_s, kind=BarKind.LIVE),),
        )
        for index, brief in enumerate(timeline.brief)
    )
    return ShownTimeline(
        zone=zone,
        heading=heading,
        drawing=TimelineDrawing(
            prefix=prefix,
            title=heading,
            rows=rows,
            marks=tuple(marks),
            end_s=end_s,
            description="Each row is a part. Outlined: on its way. Filled: there. The list below says the same.",
        ),
        steps=tuple(_steps(circuit, timeline.changes)),
        notes=(*notes, *(_brief(naming, brief) for brief in timeline.brief)),
    )


def _brief(naming: Naming, brief: Brief) -> str:
    lasts = duration(brief.to_s - brief.from_s)
    if brief.backward:
        return (
            f"For {lasts} {naming.point(brief.point)} is live from the other side, though its own contact is open "
            "(back-feed). That is normal while the valve changes over; if it lasts, the valve is stuck."
        )
    return f"For {lasts} {naming.point(brief.point)} is live, and only then."


def _rows(circuit: Circuit, timeline: Timeline) -> list[TimelineRow]:
    """A row for each part that changes, in order of its first change."""
    parts = dict.fromkeys(change.part for change in timeline.changes)
    started = {**timeline.start.inputs, **timeline.start.driven}
    rows = []
    for index, part in enumerate(parts):
        changes = [change for change in timeline.changes if change.part == part]
        bars: list[Bar] = []
        on_since: float | None = 0.0 if started[part] else None
        for change in changes:
            if change.at_s > change.since_s and change.on:
                bars.append(Bar(from_s=change.since_s, to_s=change.at_s, kind=BarKind.MOVING))
            if change.on:
                on_since = change.at_s
            elif on_since is not None:
                bars.append(Bar(from_s=on_since, to_s=change.since_s, kind=BarKind.ON))
                bars.append(Bar(from_s=change.since_s, to_s=change.at_s, kind=BarKind.MOVING))
                on_since = None
        if on_since is not None:
            bars.append(Bar(from_s=on_since, to_s=inf, kind=BarKind.ON))
        name, detail = _called(circuit, part, on=True)
        kept = tuple(bar for bar in bars if bar.to_s > bar.from_s)
        if kept:
            rows.append(TimelineRow(id=f"p{index}", name=name, detail=detail, bars=kept))
    return rows


def _called(circuit: Circuit, part: str, *, on: bool) -> tuple[str, str]:
    """The device and what its part does: ``Hall valve``, ``end switch made``."""
    device = circuit.device(part.split(".", 1)[0])
    told = {item.name: (item.words, item.on_words, item.off_words) for item in circuit.inputs}
    told |= {item.name: (item.words, item.on_words, item.off_words) for item in circuit.driven}
    words, on_words, off_words = told[part]
    state = on_words if on else off_words
    return device.words, state if words.lower() in device.words.lower() else f"{words} {state}"


def _steps(circuit: Circuit, changes: Sequence[Change]) -> list[TimeStep]:
    steps = []
    for at, group in groupby(changes, key=lambda change: duration(change.at_s)):
        told = [" ".join(_called(circuit, change.part, on=change.on)) for change in group]
        steps.append(TimeStep(at=at, words=capital(listed([lower(words) for words in told]))))
    return steps
