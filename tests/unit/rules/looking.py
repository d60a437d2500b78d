"""What one rule sees in a house, without the other rules and without cures."""

from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.findings.finding import Finding
from generator.record.load import load_text
from generator.rules.example_house import HOUSE, TODAY
from generator.rules.rule import Rule, Seen, Subject
from generator.rules.rules import rule_named
from generator.states.solve import solve


def subject_of(record: str, circuit: Circuit | None = None) -> Subject:
    """A record as rules see it, on the day of the examples; with another circuit in place of its own."""
    loaded = load_text(record.encode(), "example.yaml", folder=None)
    assert loaded.record is not None, loaded.findings
    if circuit is None:
        built = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places)
        assert not built.findings, built.findings
        circuit = built.circuit
    return Subject(
        record=loaded.record,
        circuit=circuit,
        places=loaded.places,
        solution=solve(circuit),
        today=TODAY,
        folder=None,
    )


def rule_of(name: str) -> Rule:
    """The rule of that name, which there must be."""
    rule = rule_named(name)
    assert rule is not None, name
    return rule


def found(name: str, record: str) -> list[Finding]:
    """What a rule finds in a record."""
    return list(rule_of(name).check(subject_of(record)))


def seen(name: str, circuit: Circuit) -> list[Seen]:
    """What a rule sees in a circuit; its record tells of another house, of which such rules take no notice."""
    return list(rule_of(name).look(subject_of(HOUSE, circuit)))


def subjects(name: str, circuit: Circuit) -> list[str]:
    """What the findings of a rule are on."""
    return [each.subject for each in seen(name, circuit)]
