"""The oracle of seeded mistakes sorts a few whose answer is known, and its proofs hold when everything is worked out."""

from itertools import islice

import pytest

from generator.states.solve import solve
from tests.rules.mistakes import Mistake, mistakes
from tests.rules.oracle import MATTERING, Oracle, Verdict, alike, oracle_for
from tests.rules.seeded import sound_house

HOUSE = "EB-0012"
"""It has linked terminals for neutral and for earth, and a second supply."""


@pytest.fixture(scope="module")
def made() -> dict[str, Mistake]:
    return {each.words: each for each in mistakes(sound_house(HOUSE).circuit, anywhere=True)}


@pytest.fixture(scope="module")
def oracle() -> Oracle:
    return oracle_for(sound_house(HOUSE).circuit)


@pytest.mark.parametrize(
    ("words", "verdict"),
    [
        ("boiler GNYE moved from centre.8 to centre.7", Verdict.SAME_NETS),
        ("spur BU and pump BU exchanged (centre.9, centre.10)", Verdict.SAME_NETS),
        (
            "heating-valve OG and heating-valve GY exchanged (centre.5, centre.11)",
            Verdict.TURNED_CONTACT,
        ),
        ("pump GNYE cut", Verdict.MATTERS),
        ("spur GNYE moved from spur.E to immersion-spur.E", Verdict.MATTERS),
        ("spur BN moved from centre.11 to centre.9", Verdict.SHORT),
    ],
)
def test_mistakes_whose_answer_is_known(
    words: str, verdict: Verdict, made: dict[str, Mistake], oracle: Oracle
) -> None:
    assert oracle.verdict(made[words].circuit) is verdict


def test_a_supply_turned_round_matters_though_everything_runs(
    made: dict[str, Mistake], oracle: Oracle
) -> None:
    after = made["spur BU and spur BN exchanged (spur.N, spur.L)"].circuit
    assert oracle.verdict(after) in MATTERING
    sound, turned = (solve(each).settled.on for each in (oracle.circuit, after))
    assert sound["boiler.firing"] == turned["boiler.firing"]


@pytest.mark.parametrize("reference", ["EB-0058", "EB-0145", "EB-0149"])
def test_the_proof_of_what_does_not_matter_holds(reference: str) -> None:
    """All is worked out for those among every ninth; of a contact turned round, all but its own two sides."""
    circuit = sound_house(reference).circuit
    oracle = oracle_for(circuit)
    harmless = [
        (each, verdict)
        for each in islice(mistakes(circuit, anywhere=True), 0, None, 9)
        if (verdict := oracle.verdict(each.circuit)) not in MATTERING
    ]
    assert len(harmless) > 5
    for mistake, verdict in harmless:
        sides = oracle.turned_sides(mistake.circuit) if verdict is Verdict.TURNED_CONTACT else ()
        assert alike(solve(circuit), solve(mistake.circuit), but=sides), mistake.words
