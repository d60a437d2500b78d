"""Circuits that are the same for a search, and those that are not."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pipeline import examine_text
from generator.site.circuit_key import circuit_key
from tests.tools.paths import PROPERTIES

TEXT = (PROPERTIES / "EB-0012.yaml").read_text(encoding="utf-8")


def key(text: str) -> str:
    circuit = examine_text(text, today=date(2026, 11, 2), folder=PROPERTIES).circuit
    assert circuit is not None
    return circuit_key(circuit)


def changed(old: str, new: str) -> str:
    assert old in TEXT
    return TEXT.replace(old, new, 1)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("sure: {how: tested, on: 2026-03-17, by: heating engineer}", "sure: {how: seen, on: 2020-01-02, by: surveyor}"),
        ("Newer head than the other valve", "Renewed"),
        ("reference: EB-0012", "reference: EB-9999"),
        ("# 4 Kiln Row.", "# A remark.\n#"),
    ],
)  # fmt: skip
def test_remarks_and_days_make_no_other_circuit(old: str, new: str) -> None:
    assert key(changed(old, new)) == key(TEXT)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("how: tested, on: 2026-03-17", "how: assumed, on: 2026-03-17"),
        ("lever: does not make", "lever: unknown"),
        ("place: kitchen, left of the window", "place: hall"),
        ("set_c: 60", "set_c: 65"),
        ("watts: 45", "watts: 46"),
    ],
)
def test_what_a_search_may_go_by_makes_another(old: str, new: str) -> None:
    assert key(changed(old, new)) != key(TEXT)


def test_every_conductor_counts() -> None:
    circuit = examine_text(TEXT, today=date(2026, 11, 2), folder=PROPERTIES).circuit
    assert circuit is not None
    keys = {
        circuit_key(replace(circuit, conductors=circuit.conductors[:at] + circuit.conductors[at + 1 :]))
        for at in range(len(circuit.conductors))
    }
    assert len(keys) == len(circuit.conductors)
    assert circuit_key(circuit) not in keys
