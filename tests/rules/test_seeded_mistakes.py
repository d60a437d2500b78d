"""Mistakes with one conductor in sound houses of different arrangements are found, and the core is named.

The houses are those of the demo stock; what a mistake does is judged apart from the rules. Each core is moved to each
other terminal of the house, each pair is exchanged, and each core is cut: a sample of that, the same each time, in
parts that can be shared out. `python -m tests.rules.seeded REFERENCE 1 anywhere` does all of one house.
"""

from collections import Counter

import pytest

from generator.pipeline import examine
from tests.rules.mistakes import mistakes
from tests.rules.oracle import MATTERING, Verdict
from tests.rules.seeded import PROPERTIES, TODAY, seeded

HOUSES = {
    "EB-0012": 4879,  # two-port valves, programmer, mechanical thermostat with a heater, immersion heater on its own spur
    "EB-0058": 3593,  # two-port valves, boiler with overrun, pump wired at the boiler
    "EB-0066": 8482,  # three zones over two wiring centres joined by a riser
    "EB-0130": 2800,  # mid-position valve
    "EB-0145": 2337,  # gravity hot water with a valve
    "EB-0149": 2056,  # combination boiler with a volt-free demand
}
"""How many mistakes can be made in each. Add a sound house of another arrangement here, by its reference."""
EVERY = 13
"""A prime, so that the sample keeps no step with the number of a house's terminals."""
FIRST = (0, 3, 6, 9)

each_part = pytest.mark.parametrize("first", FIRST)
each_house = pytest.mark.parametrize("reference", HOUSES)


@each_house
def test_every_mistake_is_made(reference: str) -> None:
    """Either end of each core moved to each terminal where it is not, and each two ends of two cores exchanged."""
    circuit = examine(PROPERTIES / f"{reference}.yaml", today=TODAY).circuit
    assert circuit is not None
    cores = sum(not item.is_link for item in circuit.conductors)
    made = Counter(mistake.sort for mistake in mistakes(circuit, anywhere=True))
    assert made["cut"] == cores
    assert made["moved"] == cores * 2 * (len(circuit.terminals) - 2)
    assert sum(made.values()) == HOUSES[reference]


@each_part
@each_house
def test_every_mistake_that_matters_is_found_and_the_core_named(reference: str, first: int) -> None:
    outcome = seeded(reference, every=EVERY, first=first, anywhere=True)
    matter = len(outcome.mattering)
    assert len(outcome.judged) == len(range(first, HOUSES[reference], EVERY))
    assert matter >= 0.9 * len(outcome.judged)
    assert outcome.silent == []
    assert outcome.named >= 0.9 * matter, outcome.unnamed
    assert outcome.named_by_line >= 0.9 * matter, outcome.unnamed
    assert {each.verdict for each in outcome.harmless} <= set(Verdict) - set(MATTERING)
    assert all(each.proof for each in outcome.harmless)
