"""Runs of a made-up box second by second: every time worked out by hand from two travel times."""

from collections.abc import Mapping

import pytest

from generator.catalogue.logic import All, Any, Expr, Fed, Is, Live, Not
from generator.catalogue.parts import (
    Contact,
    DeviceParts,
    Driven,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Supply,
    Terminal,
)
from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.states.timeline import Brief, Change, Moment, Schedule, Timeline, moment_in, run, simulate_call
from tests.circuits import house
from tests.stock import two_port

CALL: Mapping[str, bool] = {"box.call": True}
END: Mapping[str, bool] = {"box.call": False}


def contact(name: str, a: str, b: str, when: Expr) -> Contact:
    return Contact(name=name, words=name, a=a, b=b, when=when)


def box(
    through: Expr, *, on_s: float = 4.0, off_s: float = 1.5, second: Expr | None = None, second_s: float = 0.0
) -> Circuit:
    """A switch that feeds a motor (``L`` to ``M``) which moves a part; ``M`` reaches ``P`` while ``through`` holds.

    A second part, if any, moves as it says.
    """
    parts = [
        Driven(
            name="moved",
            words="moved",
            on_words="in",
            off_words="out",
            when=Fed("motor"),
            on_s=on_s,
            off_s=off_s,
        )
    ]
    if second is not None:
        parts.append(
            Driven(name="second", words="second", on_words="up", off_words="down", when=second, on_s=second_s)
        )
    made = DeviceParts(
        terminals=tuple(
            Terminal(name=n, words=n, role=Role.CONTACT, needed=False) for n in ("L", "N", "M", "P")
        ),
        inputs=(
            Input(
                name="call",
                words="switch",
                on_words="on",
                off_words="off",
                kind=InputKind.THERMOSTAT,
            ),
        ),
        contacts=(contact("switch", "L", "M", Is("call")), contact("through", "M", "P", through)),
        loads=(Load(name="motor", words="m", a="M", b="N", watts=5, power_factor=1, kind=LoadKind.MOTOR),),
        driven=tuple(parts),
    )
    return house(
        devices={"spur": "fused-spur", "box": made},
        conductors=[("spur.L", "box.L", "BN"), ("spur.N", "box.N", "BU")],
    )


def went(circuit: Circuit, schedule: Schedule) -> Timeline:
    solution = solve(circuit)
    return run(circuit, moment_in(solution, solution.settled, 0), schedule)


def told(timeline: Timeline) -> list[tuple[float, float, str, str]]:
    return [(change.since_s, change.at_s, change.part, change.words) for change in timeline.changes]


def test_a_part_moves_once_its_time_is_over() -> None:
    timeline = went(box(Is("moved")), [(0.0, CALL), (10.0, END)])
    assert told(timeline) == [
        (0.0, 0.0, "box.call", "on"),
        (0.0, 4.0, "box.moved", "in"),
        (10.0, 10.0, "box.call", "off"),
        (10.0, 11.5, "box.moved", "out"),
    ]
    assert timeline.changes[1] == Change(at_s=4.0, since_s=0.0, part="box.moved", words="in", on=True)
    assert timeline.quiet
    assert timeline.ends_s == 11.5
    assert timeline.brief == ()
    assert timeline.start == Moment(inputs={"spur.isolator": True, **END}, driven={"box.moved": False})
    assert timeline.end == timeline.start


def test_a_break_begins_the_travel_anew() -> None:
    timeline = went(box(Is("moved")), [(0.0, CALL), (3.0, END), (5.0, CALL)])
    assert told(timeline)[3:] == [(5.0, 9.0, "box.moved", "in")]
    assert timeline.end == Moment(inputs={"spur.isolator": True, **CALL}, driven={"box.moved": True})


def test_what_is_set_to_what_it_was_is_no_change() -> None:
    timeline = went(box(Is("moved")), [(0.0, END), (2.0, {"spur.isolator": True})])
    assert timeline.changes == ()
    assert timeline.ends_s == 0.0
    assert timeline.quiet


def test_two_changes_at_once() -> None:
    timeline = went(box(Is("moved")), [(1.0, CALL), (1.0, {"spur.isolator": False})])
    assert [(at_s, part) for _, at_s, part, _ in told(timeline)] == [
        (1.0, "box.call"),
        (1.0, "spur.isolator"),
    ]


@pytest.mark.parametrize(
    ("through", "second_s", "brief"),
    [
        # Live from the call until the part has moved.
        (Not(Is("moved")), 0.0, (0.0, 4.0)),
        # From when the second part is up until the first has moved.
        (All((Is("second"), Not(Is("moved")))), 3.0, (3.0, 4.0)),
        # Something else moves meanwhile.
        (Not(Is("moved")), 3.0, (0.0, 4.0)),
        # Still live once everything has come to rest.
        (Is("second"), 2.0, None),
        # For no time at all.
        (Not(Is("second")), 0.0, None),
    ],
)
def test_what_is_live_only_on_the_way(
    through: Expr, second_s: float, brief: tuple[float, float] | None
) -> None:
    timeline = went(box(through, second=Fed("motor"), second_s=second_s), [(0.0, CALL)])
    expected = Brief(point="box.P", backward=False, from_s=brief[0], to_s=brief[1]) if brief else None
    assert timeline.brief == ((expected,) if expected else ())


def test_each_change_of_an_input_begins_a_new_way() -> None:
    """Live from 0 to 4 s, and again from 10 to 14 s; what is live when the switch goes off ends with it."""
    circuit = box(Not(Is("moved")))
    timeline = went(circuit, [(0.0, CALL), (6.0, END), (10.0, CALL)])
    assert [(each.point, each.from_s, each.to_s) for each in timeline.brief] == [
        ("box.P", 0.0, 4.0),
        ("box.P", 10.0, 14.0),
    ]
    cut_off = went(circuit, [(0.0, CALL), (2.0, END)])
    assert cut_off.brief == ()
    assert cut_off.ends_s == 2.0


def test_an_input_set_to_what_it_is_begins_no_new_way() -> None:
    timeline = went(box(Not(Is("moved"))), [(0.0, CALL), (2.0, CALL), (3.0, {})])
    assert [(each.from_s, each.to_s) for each in timeline.brief] == [(0.0, 4.0)]


@pytest.mark.parametrize("unsure", [False, True])
def test_what_nobody_knows_is_taken_as_asked(unsure: bool) -> None:
    """The switch of a valve that its lever may make or not."""
    circuit = two_port({"heating": "heating"}, valve={"lever": "unknown"})
    rest = moment_in(solve(circuit), solve(circuit).settled, 0)
    timeline = run(circuit, rest, [(0.0, {"heating-valve.lever": True})], unsure=unsure)
    assert timeline.end.driven["boiler.firing"] is unsure
    if not unsure:
        assert run(circuit, rest, [(0.0, {"heating-valve.lever": True})]) == timeline


def test_a_load_between_a_supply_and_a_contact() -> None:
    """Straight on the line of the supply, its neutral switched; and what would move if that line were dead."""
    source = DeviceParts(
        terminals=tuple(Terminal(name=n, words=n, role=Role.CONTACT, needed=False) for n in "LNEM"),
        supplies=(Supply(name="mains", line="L", neutral="N", earth="E"),),
        inputs=(Input(name="call", words="s", on_words="on", off_words="off", kind=InputKind.CHANNEL),),
        contacts=(contact("switch", "M", "N", Is("call")),),
        loads=(Load(name="motor", words="m", a="L", b="M", watts=5, power_factor=1, kind=LoadKind.MOTOR),),
        driven=(
            Driven(
                name="moved", words="m", on_words="in", off_words="out", when=All((Fed("motor"), Is("call")))
            ),
            Driven(name="dead", words="d", on_words="in", off_words="out", when=Not(Live("L"))),
        ),
    )
    timeline = went(house(devices={"box": source}), [(1.0, CALL)])
    assert [(at_s, part) for _, at_s, part, _ in told(timeline)] == [(1.0, "box.call"), (1.0, "box.moved")]


def test_what_never_rests_is_given_up() -> None:
    """A part that ends what moves it, 1 s in and out at once: it changes twice every second."""
    circuit = box(Is("moved"), second=All((Is("call"), Not(Is("second")))), second_s=1.0)
    timeline = went(circuit, [(0.0, CALL)])
    assert not timeline.quiet
    flips = [at_s for _, at_s, part, _ in told(timeline) if part == "box.second"]
    assert flips[:6] == [1.0, 1.0, 2.0, 2.0, 3.0, 3.0]
    assert 100 < len(flips) < 400


@pytest.mark.parametrize(
    ("on_s", "ended_s"), [(0.0, 60.0), (12.0, 60.0), (29.5, 60.0), (30.0, 90.0), (31.0, 90.0)]
)
def test_a_call_is_held_for_more_than_half_a_minute_after_all_has_come_to_rest(
    on_s: float, ended_s: float
) -> None:
    call = simulate_call(solve(box(Is("moved"), on_s=on_s)), ("box.call",))
    assert call is not None
    assert call.ended_s == ended_s
    assert call.overrun_s == 0.0
    assert call.timeline.ends_s == ended_s + 1.5


def test_no_call_where_nothing_rests_before_it() -> None:
    """A part that moves back and forth while nothing calls."""
    circuit = box(Is("moved"), second=Not(Any((Is("call"), Is("second")))), second_s=1.0)
    assert simulate_call(solve(circuit), ("box.call",)) is None


def test_no_overrun_where_the_boiler_was_not_called() -> None:
    circuit = two_port({"hot-water": "hot water", "heating": "heating"}, overrun=True)
    call = simulate_call(solve(circuit), ("programmer.channel-2",))
    assert call is not None
    assert call.overrun_s == 0.0
    assert {change.part for change in call.timeline.changes} == {"programmer.channel-2"}
    assert call.timeline.ends_s == 60.0
