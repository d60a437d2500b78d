"""Rungs derived from solved circuits: by hand for known arrangements, and as a law for every house."""

import pytest

from generator.circuit.model import Circuit
from generator.drawings.ladder_model import Blade, Block, Joint, Parallel, Rung, Series
from generator.states.answer import Answer
from generator.states.solve import solve
from generator.views.ladder_input import ladder
from generator.views.rungs import Beside, Chain, Feeds, Passed, arranged
from generator.views.shown_states import shown_states
from tests.stock import demo_circuits, two_port
from tests.three_port_houses import mid_position

HOUSES = {"mid-position": mid_position(), **demo_circuits()}


def _told(series: Series) -> str:
    words = []
    for part in series:
        if isinstance(part, Joint):
            words.append(f"({part.text})")
        elif isinstance(part, Blade):
            words.append(f"{part.name} {part.detail}".strip() + ("!" if part.breaks else ""))
        elif isinstance(part, Parallel):
            words.append("{" + " | ".join(_told(way) for way in part.ways) + "}")
    return " ".join(words)


def _rungs(circuit: Circuit) -> list[tuple[str, str, list[str]]]:
    made = ladder(solve(circuit), shown_states(circuit), title="Ladder")
    assert made is not None
    found = []
    for rails in made.rails:
        for item in rails.items:
            for rung in item.rungs if isinstance(item, Block) else (item,):
                assert isinstance(rung, Rung)
                found.append((rung.pin, _told(rung.series), [load.name for load in rung.loads]))
    return found


def test_two_port_with_a_relay() -> None:
    circuit = two_port({"ground": "heating", "first": "heating"}, relay=True)
    assert _rungs(circuit) == [
        ("", "(G) Programmer channel 1 on (A) Ground thermostat (B)", ["Ground valve"]),
        ("", "(G) Programmer channel 2 on (D) First thermostat (E)", ["First valve"]),
        ("", "{Ground valve end switch | First valve end switch} (C)", ["Relay"]),
        ("", "(G) Relay contact 11-14 (F)", ["Boiler", "Pump"]),
    ]


def test_mid_position_is_one_box_with_three_pins() -> None:
    """As the valve is wired everywhere: white by both heating controls, grey by either hot water control at rest."""
    assert _rungs(mid_position()) == [
        ("WH", "(J) Programmer channel 2 on (A) Room (B)", []),
        ("GY", "{Programmer channel 1 off! | Programmer channel 1 on (F) Tank satisfied!} (E)", []),
        ("OG", "(J) Programmer channel 1 on (F) Tank calling for heat (D)", ["Boiler", "Pump"]),
    ]


def _conducts(chain: Chain, circuit: Circuit, answer: Answer) -> int:
    vector = answer.at
    for part in chain:
        if isinstance(part, Passed):
            vector &= answer.made[circuit.contacts[part.contact].name]
        else:
            beside = 0
            for way in part.ways:
                beside |= _conducts(way, circuit, answer)
            vector &= beside
    return vector


@pytest.mark.parametrize("name", HOUSES)
def test_a_rung_conducts_exactly_when_its_load_is_live(name: str) -> None:
    circuit = HOUSES[name]
    solution = solve(circuit)
    feeds = Feeds(circuit, solution.answers)
    rail = feeds.always(lambda answer, node: answer.line[node])
    for load in circuit.loads:
        for point in (load.a, load.b):
            net = feeds.net(point)
            if net in rail:
                continue
            chain = arranged(feeds.ways(net, rail))
            for answer in solution.answers:
                assert (_conducts(chain, circuit, answer) if chain else 0) == answer.line[point] & answer.at


def test_common_beginnings_and_ends_are_drawn_once() -> None:
    a, b, c, d = (Passed(number, "x", "y") for number in range(4))
    assert arranged([(a, b, d), (a, c, d)]) == (a, Beside(((b,), (c,))), d)
    assert arranged([(a, b), (c, d)]) == (Beside(((a, b), (c, d))),)
    assert arranged([(a, b, c), (a, d, c), (b, c)]) == (
        Beside(((a, Beside(((b,), (d,)))), (b,))),
        c,
    )
