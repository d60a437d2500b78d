"""A sound house with one conductor missing, or any two exchanged: something is found, or nothing has changed.

The mistakes that people make with a screwdriver or a keyboard, every one of them.
"""

import re
from itertools import combinations

import pytest

from generator.pipeline import Examination, examine_text
from generator.rules.example_house import HOUSE, OVERRUN, TODAY, UNVENTED, change, without

SOUND = {"house": HOUSE, "unvented": UNVENTED, "overrun": OVERRUN}


def landings(text: str) -> list[str]:
    """The lines that land a conductor in the centre, as they stand in the record."""
    return [line.strip() for line in text.splitlines() if re.match(r"\s+- \{ to:", line)]


def examined(text: str) -> Examination:
    return examine_text(text, today=TODAY)


def works(examination: Examination) -> list[int]:
    """What every part does in every state."""
    assert examination.solution is not None
    return list(examination.solution.settled.on.values())


@pytest.mark.parametrize("text", SOUND.values(), ids=SOUND)
def test_every_missing_conductor_is_found(text: str) -> None:
    silent = [
        line
        for line in landings(text)
        # Without the cores of the cables, which would tell at once.
        if not examined(re.sub(r"cores: \[[^\]]*\], ", "", without(text, line))).findings
    ]
    assert silent == []


@pytest.mark.parametrize("text", SOUND.values(), ids=SOUND)
def test_every_exchange_is_found_or_changes_nothing(text: str) -> None:
    """Nor does one mistake bury the reader in findings: over a screenful, nobody reads any of it."""
    sound = works(examined(text))
    silent = []
    most = 0
    for one, other in combinations(landings(text), 2):
        after = examined(change(text, (one, other), (other, one)))
        most = max(most, len(after.findings))
        if not after.findings and works(after) != sound:
            silent.append((one, other))
    assert silent == []
    assert most <= 8
