"""Every mistake with one conductor in sound houses of different arrangements is found, and the core is named.

The houses are those of the demo stock; what a mistake does is judged apart from the rules. Each house is done in
parts, so that they can be shared out.
"""

import pytest

from tests.rules.oracle import MATTERING, Verdict
from tests.rules.seeded import seeded

HOUSES = {
    "EB-0012": "two-port valves, programmer, mechanical thermostat with a heater",
    "EB-0058": "two-port valves, boiler with overrun, pump wired at the boiler",
    "EB-0066": "three zones over two wiring centres joined by a riser",
    "EB-0130": "mid-position valve",
    "EB-0145": "gravity hot water with a valve",
    "EB-0149": "combination boiler with a volt-free demand",
}
"""Add a sound house of another arrangement here, by its reference."""
PARTS = 4

each_part = pytest.mark.parametrize("part", range(PARTS))
each_house = pytest.mark.parametrize("reference", HOUSES)


@each_part
@each_house
def test_every_mistake_that_matters_is_found_and_the_core_named(reference: str, part: int) -> None:
    outcome = seeded(reference, every=PARTS, first=part)
    assert outcome.matter > 25
    assert outcome.silent == []
    assert outcome.named >= 0.9 * outcome.matter, outcome.unnamed
    # A finding of an earlier line, of what follows from the mistake, may come before that which names it.
    assert outcome.named_by_line >= 0.85 * outcome.matter
    assert not set(outcome.proofs) & set(MATTERING)
    assert set(outcome.proofs) <= {Verdict.SAME_NETS, Verdict.TURNED_CONTACT, Verdict.SAME_READINGS}
