"""Overrides written by hand for any house, so that its tenant's page shows every sort of step: not proved, for tests of pages only."""

from collections.abc import Iterable

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, ZoneIntent
from generator.overrides.model import (
    Attempt,
    Caution,
    Instruction,
    Move,
    Overrides,
    Proof,
    Reason,
    Service,
    Sign,
    Step,
    Symptom,
)

_PROOF = Proof(
    states=8,
    faults=(),
    helped=(),
    not_helped=(),
    hazards=(),
    shown=("MARK shown to engineers",),
)
_LEVER = (Caution.STAYS_WARM, Caution.LETS_GO, Caution.TIME_LIMIT)


def hand_made(circuit: Circuit) -> Overrides:
    """Every sign, move and caution that fits the house, whether or not it would be safe there."""
    heating = [zone for zone in circuit.zones if zone.serves == "heating"]
    water = [zone for zone in circuit.zones if zone.serves == "hot water"]
    names = tuple(zone.name for zone in circuit.zones)
    spur = next((device.name for device in circuit.devices if device.duty is Duty.SUPPLY), "")
    made = [
        _instruction(
            Symptom(
                slug=f"{zone.name}-cold",
                sign=Sign.WATER_COLD
                if zone in water
                else Sign.ZONE_COLD
                if len(heating) > 1
                else Sign.ROOMS_COLD,
                cold=(zone.name,),
                works=tuple(name for name in names if name != zone.name),
            ),
            _tries(zone),
        )
        for zone in circuit.zones
    ]
    made.append(
        _instruction(Symptom(slug="nothing-warm", sign=Sign.NOTHING_WARM, cold=names), _all(circuit, spur))
    )
    if heating:
        off = Attempt(
            steps=(
                *(_step(Move.ROOM_DOWN, heating[0].thermostat, "calling", heating[0]) for _ in heating[:1]),
                _step(Move.SWITCH_OFF, spur, "isolator"),
            ),
            wanted=(),
            wait_s=0,
            helps=(),
            cautions=(Caution.FROST,),
        )
        hot = Symptom(
            slug="rooms-never-stop",
            sign=Sign.ROOMS_NEVER_STOP,
            never_stops=tuple(zone.name for zone in heating),
        )
        made.append(_instruction(hot, (off,)))
    if water:
        hot = Symptom(slug="water-never-stops", sign=Sign.WATER_NEVER_STOPS, never_stops=(water[0].name,))
        made.append(_instruction(hot, (), (Reason.UNVENTED_STUCK,)))
    return Overrides(
        services=tuple(
            Service(name=zone.name, words=zone.words, serves=zone.serves) for zone in circuit.zones
        ),
        instructions=tuple(made),
        plans=(),
        refused=None,
        hours=12.0,
        states=8,
        faults=1,
        unsolved=(),
    )


def _instruction(
    symptom: Symptom, attempts: tuple[Attempt, ...], reasons: tuple[Reason, ...] = ()
) -> Instruction:
    return Instruction(
        symptom=symptom,
        attempts=attempts,
        reasons=reasons,
        still_works=symptom.works,
        put_back=tuple(_undone(attempts)),
        proof=_PROOF,
    )


def _undone(attempts: tuple[Attempt, ...]) -> Iterable[Step]:
    for attempt in reversed(attempts):
        for step in reversed(attempt.steps):
            if step.device:
                yield Step(
                    move=step.move,
                    device=step.device,
                    control=step.control,
                    input=step.input,
                    to=False,
                    zone=step.zone,
                )


def _step(move: Move, device: str = "", name: str = "", zone: ZoneIntent | None = None) -> Step:
    return Step(
        move=move,
        device=device,
        control=name,
        input=f"{device}.{name}" if device else "",
        zone=zone.name if zone else "",
    )


def _tries(zone: ZoneIntent) -> tuple[Attempt, ...]:
    check = Move.CHECK_TAP if zone.serves == "hot water" else Move.CHECK_CREDIT
    tries = [Attempt(steps=(_step(check),), wanted=(zone.name,), wait_s=0, helps=())]
    calls = _calls(zone)
    if calls:
        tries.append(
            Attempt(
                steps=calls,
                wanted=(zone.name,),
                wait_s=20,
                helps=(),
                cautions=(Caution.COSTS, Caution.ONLY_WHILE),
            )
        )
    if zone.valve:
        scald = (Caution.SCALD,) if zone.serves == "hot water" else ()
        lever = _step(Move.LEVER_LATCHED, zone.valve, "lever", zone)
        tries.append(
            Attempt(steps=(lever,), wanted=(zone.name,), wait_s=200, helps=(), cautions=(*_LEVER, *scald))
        )
    return tuple(tries)


def _calls(zone: ZoneIntent) -> tuple[Step, ...]:
    steps = []
    if zone.channel:
        device, name = zone.channel.split(".", 1)
        steps.append(_step(Move.TIMER_ON, device, name, zone))
    if zone.thermostat and zone.serves == "heating":
        steps.append(_step(Move.ROOM_UP, zone.thermostat, "calling", zone))
    return tuple(steps)


def _all(circuit: Circuit, spur: str) -> tuple[Attempt, ...]:
    """A long sheet: the meter, the switch, and the controls of the first three zones."""
    names = tuple(zone.name for zone in circuit.zones)
    tries = [
        Attempt(steps=(_step(Move.CHECK_CREDIT),), wanted=(), wait_s=0, helps=()),
        Attempt(steps=(_step(Move.SWITCH_ON, spur, "isolator"),), wanted=names, wait_s=30, helps=()),
    ]
    for zone in circuit.zones[:3]:
        calls = _calls(zone)
        if calls:
            tries.append(
                Attempt(
                    steps=calls,
                    wanted=(zone.name,),
                    wait_s=30,
                    helps=(),
                    also_heats=names[-1:],
                    cautions=(Caution.COSTS, Caution.ALSO_HEATS),
                )
            )
    return tuple(tries)
