"""The way from the supply to a load, where there are several ways or the last one ends at earth."""

from generator.catalogue.parts import DeviceParts, Load, LoadKind, Role, Terminal
from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.states.trace import Trace, made_in, path, why_fed
from tests.circuits import Wire, house

LOAD = DeviceParts(
    terminals=tuple(Terminal(name=n, words=n, role=Role.CONTACT, needed=False) for n in "12"),
    loads=(Load(name="lamp", words="lamp", a="1", b="2", watts=1, power_factor=1, kind=LoadKind.LAMP),),
)


def lamp(*wires: Wire) -> Circuit:
    return house(
        devices={"spur": "fused-spur", "box": ("wiring-centre", {"terminals": tuple("AB")}), "lamp": LOAD},
        conductors=wires,
    )


def traced(circuit: Circuit) -> Trace | None:
    return why_fed(circuit, solve(circuit).settled, 0, circuit.loads[0])


def points(trace: Trace | None) -> tuple[list[str], list[str]]:
    assert trace is not None
    return [step.to for step in trace.out], [step.to for step in trace.back]


def test_the_shorter_of_two_ways() -> None:
    longer: list[Wire] = [("spur.L", "box.A", "BN", "a"), ("box.A", "lamp.1", "BN", "b")]
    back: Wire = ("lamp.2", "spur.N", "BU", "c")
    assert points(traced(lamp(*longer, back, ("spur.L", "lamp.1", "BK", "d"))))[0] == ["spur.L", "lamp.1"]
    assert points(traced(lamp(*longer, back)))[0] == ["spur.L", "box.A", "lamp.1"]


def test_of_two_ways_alike_that_of_the_record_s_order() -> None:
    ways: list[Wire] = [("spur.L", "lamp.1", core, core.lower()) for core in ("BN", "BK")]
    back: Wire = ("lamp.2", "spur.N", "BU", "c")
    for first, second in (ways, ways[::-1]):
        trace = traced(lamp(first, second, back))
        assert trace is not None
        assert trace.out[-1].conductor is not None
        assert trace.out[-1].conductor.core == first[2]


def test_either_end_of_a_load_may_be_the_live_one() -> None:
    wires: list[Wire] = [("spur.L", "lamp.2", "BN", "a"), ("lamp.1", "spur.N", "BU", "a")]
    assert points(traced(lamp(*wires))) == (["spur.L", "lamp.2"], ["spur.N", "spur.mains-neutral"])


def test_back_by_neutral_where_there_is_one_else_by_earth() -> None:
    line: Wire = ("spur.L", "lamp.1", "BN", "a")
    neutral: Wire = ("lamp.2", "spur.N", "BU", "a")
    earth: Wire = ("lamp.2", "spur.E", "GNYE", "a")
    assert points(traced(lamp(line, earth, neutral)))[1] == ["spur.N", "spur.mains-neutral"]
    assert points(traced(lamp(line, earth)))[1] == ["spur.E", "spur.mains-earth"]
    assert traced(lamp(line)) is None
    assert traced(lamp(neutral)) is None


def test_each_step_begins_where_the_last_one_ended() -> None:
    circuit = lamp(("spur.L", "lamp.1", "BN", "a"), ("lamp.2", "spur.N", "BU", "a"))
    trace = traced(circuit)
    assert trace is not None
    (first, second) = trace.out
    assert (first.start, first.to, first.conductor) == ("spur.mains-line", "spur.L", None)
    assert first.contact is not None
    assert first.contact.name == "spur.fuse-way"
    assert (second.start, second.to, second.contact) == ("spur.L", "lamp.1", None)
    assert [(step.start, step.to) for step in trace.back] == [
        ("lamp.2", "spur.N"),
        ("spur.N", "spur.mains-neutral"),
    ]


def test_a_contact_is_passed_either_way() -> None:
    """A thermostat wired the wrong way round: line on its call, the lamp on its common."""
    circuit = house(
        devices={"spur": "fused-spur", "stat": "room-thermostat", "lamp": LOAD},
        conductors=[
            ("spur.L", "stat.call", "BN", "a"),
            ("stat.common", "lamp.1", "BK", "a"),
            ("lamp.2", "spur.N", "BU", "b"),
        ],
    )
    answer = solve(circuit).settled
    assert why_fed(circuit, answer, 0, circuit.loads[0]) is None
    assert points(why_fed(circuit, answer, 1, circuit.loads[0]))[0] == [
        "spur.L",
        "stat.call",
        "stat.common",
        "lamp.1",
    ]


def test_no_way_from_a_point_to_itself_is_needed() -> None:
    circuit = lamp()
    answer = solve(circuit).settled
    assert path(circuit, answer, 0, ["spur.L"], "spur.L") == ()
    assert path(circuit, answer, 0, ["spur.L"], "lamp.1") is None
    assert path(circuit, answer, 0, ["box.A", "spur.mains-line"], "spur.L") is not None


def test_contacts_made_in_a_state() -> None:
    """Asked state by state, in turn, of two answers: also where more states are asked for than are kept."""
    circuit = house(devices={"spur": "fused-spur", **{f"stat-{n}": "room-thermostat" for n in range(9)}})
    always = {"spur.fuse-way", "spur.neutral-way", "spur.earth-way"}
    on, off = solve(circuit).settled, solve(circuit, {"spur.isolator": False}).settled
    for state in (*range(512), 3, 300):
        made = {f"stat-{n}.call" for n in range(9) if state >> n & 1}
        assert made_in(on, state) == made | always
        if state % 100 == 0:
            assert made_in(off, state) == made | {"spur.earth-way"}
    assert made_in(off, 5) is made_in(off, 5)
