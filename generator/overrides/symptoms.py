"""What a tenant may see, and the faults behind each sight.

A fault belongs to every symptom that it could show as: what fails with it in some state may be what is cold. What comes only
of work on the wiring is behind none: a tenant is told to ring where somebody has just worked on it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.overrides.house import House
from generator.overrides.model import Sign, Symptom
from generator.overrides.outcomes import Faulty
from generator.overrides.services import Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A symptom with the faults behind it, in the order of the record."""

    symptom: Symptom
    faults: tuple[Faulty, ...]


def symptoms(house: House) -> Iterator[Seen]:
    """Every symptom of a house that some fault can show, the widest first."""
    faulty = tuple(each for each in house.solved.faulty if not each.fault.by_work)
    fails = {f.fault.name: {w.name for w in house.wanted if house.fails(f, w)} for f in faulty}
    works = {f.fault.name: {w.name for w in house.wanted if house.works(f, w)} for f in faulty}

    def group(cold: Sequence[str], some_works: Sequence[str]) -> tuple[Faulty, ...]:
        return tuple(
            each
            for each in faulty
            if set(cold) <= fails[each.fault.name]
            and (not some_works or works[each.fault.name] & set(some_works))
        )

    for symptom in _cold(house.wanted):
        behind = group(symptom.cold, symptom.works)
        if behind:
            yield Seen(symptom=symptom, faults=behind)
    yield from _never_stops(house, faulty)


def _cold(wanted: Sequence[Wanted]) -> Iterator[Symptom]:
    every = tuple(each.name for each in wanted)
    heating = tuple(each.name for each in wanted if each.heating)
    water = tuple(each.name for each in wanted if not each.heating)
    if every:
        yield Symptom(slug=_slug(Sign.NOTHING_WARM), sign=Sign.NOTHING_WARM, cold=every)
    if heating and water:
        yield Symptom(slug=_slug(Sign.ROOMS_COLD), sign=Sign.ROOMS_COLD, cold=heating, works=water)
    if len(heating) > 1:
        for name in heating:
            rest = tuple(each for each in every if each != name)
            yield Symptom(
                slug=f"{_slug(Sign.ZONE_COLD)}-{name}", sign=Sign.ZONE_COLD, cold=(name,), works=rest
            )
    if heating and water:
        yield Symptom(slug=_slug(Sign.WATER_COLD), sign=Sign.WATER_COLD, cold=water, works=heating)


def _never_stops(house: House, faulty: Sequence[Faulty]) -> Iterator[Seen]:
    for sign, serves in ((Sign.ROOMS_NEVER_STOP, "heating"), (Sign.WATER_NEVER_STOPS, "hot water")):
        of = [each for each in house.wanted if each.service.serves == serves and not each.part]
        behind = tuple(f for f in faulty if any(house.warms_unasked(f, each) for each in of))
        if behind:
            names = tuple(each.name for each in of)
            yield Seen(symptom=Symptom(slug=_slug(sign), sign=sign, never_stops=names), faults=behind)


_SLUGS = {
    Sign.NOTHING_WARM: "nothing-warm",
    Sign.ROOMS_COLD: "rooms-cold",
    Sign.ZONE_COLD: "cold",
    Sign.WATER_COLD: "water-cold",
    Sign.ROOMS_NEVER_STOP: "rooms-never-stop",
    Sign.WATER_NEVER_STOPS: "water-never-stops",
}


def _slug(sign: Sign) -> str:
    return _SLUGS[sign]
