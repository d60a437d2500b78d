"""The same findings in the same order, whatever the order of a hash."""

import os
import subprocess
import sys

_PRINTS = """
from generator.pipeline import examine_text
from generator.rules.example_house import TODAY
from generator.rules.rules import ALL
for rule in ALL:
    for finding in examine_text(rule.wrong, today=TODAY).findings:
        print(finding)
"""


def test_hash_seed_changes_nothing() -> None:
    outputs = [
        subprocess.run(
            [sys.executable, "-c", _PRINTS],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert outputs[0]
    assert outputs[0] == outputs[1]
