"""One symptom as a sheet of paper: what the tenant sees, steps in order, what to look for, and how to put it back.

Says what was proved and nothing else. Knows no page around it.
"""

from collections.abc import Iterable
from dataclasses import replace
from itertools import accumulate
from math import ceil, floor

from generator.circuit.model import Circuit
from generator.overrides.model import Attempt, Caution, Instruction, Move, Overrides, Reason, Sign, Symptom
from generator.overrides.services import wanted_services
from generator.views.tenant_heat import heard
from generator.views.tenant_model import ShownStep, ShownSymptom, ShownTry
from generator.views.tenant_steps import HOT_WATER, StepWords
from generator.views.tenant_wording import Own, Phrase, Wording

TAPS = "taps"
"""The service of a boiler that heats tap water itself."""
MINUTES = (1, 2, 3, 5, 10, 15, 20, 30, 45, 60)
"""The waits that there are words for; a wait is rounded up to the next."""
_CHECKS = (Move.CHECK_CREDIT, Move.CHECK_TAP)
_NEVER_STOPS = (Sign.ROOMS_NEVER_STOP, Sign.WATER_NEVER_STOPS)
_SAID_FIRST = (Caution.SCALD, Caution.FROST)
_BY_STEPS = (Caution.TIME_LIMIT,)
_EACH = (Move.SWITCH_ON, Move.SWITCH_OFF, Move.ROOM_UP, Move.ROOM_DOWN)
"""A switch has its own lock or note and a thermostat its own setting, to be left or put back as it was: said at every one."""


class SheetWords:
    """Makes the sheets of one house in one language."""

    def __init__(
        self, circuit: Circuit, overrides: Overrides, wording: Wording, *, fuel: str, stop: tuple[Phrase, ...]
    ) -> None:
        """Keep what all sheets of the house have in common; ``stop`` is when to stop, in one line."""
        self._steps = StepWords(circuit, overrides.services, wording, fuel=fuel)
        self._services = {service.name: service for service in overrides.services}
        self._wording = wording
        self._circuit = circuit
        self._hours = overrides.hours
        self._stop = stop
        self._stored = {each.name for each in wanted_services(circuit) if each.charges}
        opens = {zone.name: zone.opens for zone in circuit.zones}
        warmed_floors = {each.opens for each in circuit.water.circuits if each.feeds == "underfloor"}
        self._floors = {name for name, opened in opens.items() if opened and opened in warmed_floors}

    def sheet(self, instruction: Instruction) -> ShownSymptom:
        """The sheet of one symptom."""
        cautions = tuple(dict.fromkeys(caution for each in instruction.attempts for caution in each.cautions))
        heading, rest = self._heading(instruction.symptom)
        said: set[Phrase] = set()
        undone: set[Phrase] = set()
        starts = list(accumulate((len(each.steps) for each in instruction.attempts), initial=1))
        tries = tuple(
            ShownTry(
                steps=tuple(
                    _once(self._steps.step(start + n, step), said, always=step.move in _EACH)
                    for n, step in enumerate(attempt.steps)
                ),
                look=tuple(self._look(attempt, instruction.symptom, next_step, said)),
            )
            for attempt, start, next_step in zip(
                instruction.attempts, starts, [*starts[1:-1], None], strict=False
            )
        )
        return ShownSymptom(
            slug=instruction.symptom.slug,
            heading=heading,
            rest=rest,
            first=(*self._stop, *self._said_first(cautions, instruction.symptom)),
            tries=tries,
            why=() if tries else self.why(instruction.reasons),
            meanwhile=tuple(self._meanwhile(cautions, instruction.attempts)),
            works=tuple(self.works(instruction.still_works)),
            put_back=tuple(
                _once(self._steps.undone(n, step), undone) for n, step in enumerate(instruction.put_back, 1)
            ),
            put_back_by=(self._by(),)
            if Caution.TIME_LIMIT in cautions and instruction.put_back and self._hours > 0
            else (),
        )

    def _said_first(self, cautions: tuple[Caution, ...], symptom: Symptom) -> Iterable[Phrase]:
        first = [caution for caution in cautions if caution in _SAID_FIRST]
        if symptom.sign is Sign.WATER_NEVER_STOPS and Caution.SCALD not in first:
            first.insert(0, Caution.SCALD)
        return (self._wording.say(_caution(caution)) for caution in first)

    def why(self, reasons: Iterable[Reason]) -> tuple[Phrase, ...]:
        """Why there is no step: the most telling reason, or that there is no way where none is given."""
        for reason in reasons:
            return (self._wording.say(reason_key(reason)),)
        return (self._wording.say(reason_key(Reason.NO_WAY)),)

    def works(self, names: Iterable[str]) -> Iterable[Phrase]:
        """What still works: a sentence for the rooms and one for the water, with names where there are several."""
        known = [self._services[name] for name in names if name in self._services]
        for sort, each in (("rooms", "zone"), ("water", "water-zone")):
            some = [service for service in known if (service.serves == HOT_WATER) == (sort == "water")]
            if len(some) == 1 and self._steps.alone(some[0].name):
                yield self._wording.say(f"works.{sort}")
            elif some:
                zones = Own(", ".join(service.words for service in some))
                yield self._wording.say(f"works.{each}", zone=zones)

    def _heading(self, symptom: Symptom) -> tuple[Phrase, tuple[Phrase, ...]]:
        say = self._wording.say
        water_works = self._any_of(symptom.works, HOT_WATER)
        rooms_work = any(not self._any_of((name,), HOT_WATER) for name in symptom.works)
        zone = self._name((*symptom.cold, *symptom.never_stops))
        match symptom.sign:
            case Sign.NOTHING_WARM:
                whole = self._any_of(symptom.cold, HOT_WATER)
                return say("sign.nothing-warm" if whole else "sign.nothing-warm-rooms"), ()
            case Sign.ROOMS_COLD:
                return say("sign.rooms-cold-water-fine" if water_works else "sign.rooms-cold"), ()
            case Sign.ZONE_COLD:
                rest = (say("sign.zone-cold-rest-fine"),) if symptom.works else ()
                return say("sign.zone-cold", zone=zone), rest
            case Sign.WATER_COLD:
                return say("sign.water-cold-rooms-fine" if rooms_work else "sign.water-cold"), ()
            case Sign.ROOMS_NEVER_STOP:
                one = len(symptom.never_stops) == 1 and not self._steps.alone(symptom.never_stops[0])
                return say("sign.zone-never-stops", zone=zone) if one else say("sign.rooms-never-stop"), ()
            case Sign.WATER_NEVER_STOPS:
                return say("sign.water-never-stops"), ()

    def _any_of(self, names: Iterable[str], serves: str) -> bool:
        return any(name in self._services and self._services[name].serves == serves for name in names)

    def _name(self, names: tuple[str, ...]) -> Own:
        return Own(", ".join(self._services[name].words for name in names if name in self._services))

    def _look(
        self, attempt: Attempt, symptom: Symptom, next_step: int | None, said: set[Phrase]
    ) -> Iterable[Phrase]:
        """What to wait for and feel after an attempt, and where to go from there.

        What stands on the sheet already is not said again in full, so that a long sheet stays one page.
        """
        say = self._wording.say
        if all(step.move in _CHECKS for step in attempt.steps):
            yield say("look.mended")
        elif symptom.sign in _NEVER_STOPS:
            cooling = say("look.cooling-water" if symptom.sign is Sign.WATER_NEVER_STOPS else "look.cooling")
            yield say("look.again") if cooling in said else cooling
            said.add(cooling)
            yield say("look.cool-stop")
        else:
            start = say(f"look.{self._heard(attempt)}", time=self._time(attempt.wait_s))
            if attempt.wait_s > 0 and start not in said:
                said.add(start)
                yield start
            yield from self._feel(attempt)
            if not attempt.certain:
                yield say("look.perhaps")
            if Caution.TIME_LIMIT in attempt.cautions and self._hours > 0 and self._by() not in said:
                said.add(self._by())
                yield self._by()
            yield say("look.warm-stop")
        if next_step is None:
            yield say("look.last")
        else:
            yield say("look.go-on-to", number=str(next_step))

    def _heard(self, attempt: Attempt) -> str:
        """The sentence that says how long to wait, with what may be heard by then."""
        return heard(self._circuit, attempt.wanted) or "wait"

    def _feel(self, attempt: Attempt) -> Iterable[Phrase]:
        """How to find out that it gets warm, a sentence a service; the same sentence once."""
        said: list[Phrase] = []
        wanted = attempt.wanted
        # A store has to get hot before the rooms can.
        stores = any(self._any_of((step.zone,), HOT_WATER) for step in attempt.steps)
        for name in wanted:
            service = self._services.get(name)
            if service is None:
                continue
            if service.serves == HOT_WATER:
                phrase = self._wording.say("look.tap" if name == TAPS else "look.tank")
            else:
                late = "-late" if stores and name in self._stored and name not in self._floors else ""
                key = f"look.{'floor' if name in self._floors else 'radiator'}{late}"
                if self._steps.alone(name) or len(wanted) > 1:
                    phrase = self._wording.say(key)
                else:
                    phrase = self._wording.say(f"{key}-zone", zone=Own(service.words))
            if phrase not in said:
                said.append(phrase)
        return said

    def _meanwhile(self, cautions: tuple[Caution, ...], attempts: tuple[Attempt, ...]) -> Iterable[Phrase]:
        for caution in cautions:
            if caution is Caution.ALSO_HEATS:
                yield from self._also_heats(attempts)
            elif caution not in (*_SAID_FIRST, *_BY_STEPS):
                yield self._wording.say(_caution(caution))

    def _also_heats(self, attempts: tuple[Attempt, ...]) -> Iterable[Phrase]:
        names = list(dict.fromkeys(name for each in attempts for name in each.also_heats))
        known = [self._services[name] for name in names if name in self._services]
        if not known:
            yield self._wording.say("caution.also-heats")
        for service in known:
            if not self._steps.alone(service.name):
                yield self._wording.say("caution.also-heats-zone", zone=Own(service.words))
            elif service.serves == HOT_WATER:
                yield self._wording.say("caution.also-heats-water")
            else:
                yield self._wording.say("caution.also-heats-rooms")

    def _by(self) -> Phrase:
        """The firm's limit, rounded down."""
        if self._hours >= 1:
            time = self._of_hours(floor(self._hours))
        else:
            minutes = max((each for each in MINUTES if each <= self._hours * 60), default=MINUTES[0])
            time = self._wording.text(f"time.minutes-{minutes}")
        return self._wording.say("caution.time-limit", time=time)

    def _of_hours(self, hours: int) -> str:
        text = self._wording.text
        return text("time.hours-1") if hours == 1 else text("time.hours", hours=str(hours))

    def _time(self, seconds: float) -> str:
        """A wait in words, rounded up; never shorter than it is."""
        for minutes in MINUTES:
            if seconds <= minutes * 60:
                return self._wording.text(f"time.minutes-{minutes}")
        return self._of_hours(ceil(seconds / 3600))


def _once(step: ShownStep, said: set[Phrase], *, always: bool = False) -> ShownStep:
    """The step without hints that stand on the sheet already, unless they are ``always`` said."""
    if always:
        return step
    more = tuple(phrase for phrase in step.more if phrase not in said)
    said.update(more)
    return replace(step, more=more)


def reason_key(reason: Reason) -> str:
    """The sentence of a reason in the catalogue."""
    return f"reason.{reason.name.lower().replace('_', '-')}"


def _caution(caution: Caution) -> str:
    return f"caution.{caution.name.lower().replace('_', '-')}"
