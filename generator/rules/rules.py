"""The explicit list of every rule, and the one function that holds a property against them.

Knows which rules there are, not what any of them looks for.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from generator.findings.errors import HearthbookError
from generator.findings.finding import Finding, in_order
from generator.record.own_parts import withheld, without_own_parts
from generator.record.path_places import PathPlaces, placed
from generator.rules.accepted import ACCEPTANCES, apply_accepted
from generator.rules.calls_boiler import CALLS_BOILER
from generator.rules.calls_diverter import CALLS_DIVERTER
from generator.rules.calls_frost import CALLS_FROST
from generator.rules.calls_hunting import CALLS_HUNTING
from generator.rules.calls_lives import CALLS_LIVES
from generator.rules.calls_loops import CALLS_LOOPS
from generator.rules.calls_water import CALLS_WATER
from generator.rules.calls_zones import CALLS_ZONES
from generator.rules.dwellings import DWELLINGS
from generator.rules.earths import EARTHS
from generator.rules.extra_low import EXTRA_LOW, EXTRA_LOW_CALLS
from generator.rules.hot_water import HOT_WATER
from generator.rules.identification import IDENTIFICATION
from generator.rules.indicator_lamps import INDICATOR_LAMPS
from generator.rules.loads import LOADS
from generator.rules.neutrals import NEUTRALS
from generator.rules.one_conductor import explained
from generator.rules.points import PLACES, POINTS
from generator.rules.record_itself import RECORD
from generator.rules.rule import Family, Rule, Subject
from generator.rules.supply import SUPPLY
from generator.rules.terminals import TERMINALS
from generator.rules.turned_contacts import TURNED_CONTACTS
from generator.rules.unvented import UNVENTED_CYLINDERS
from generator.rules.unvented_valves import UNVENTED_VALVES
from generator.rules.valve_cores import VALVE_CORES

FAMILIES: tuple[tuple[Family, tuple[Rule, ...]], ...] = (
    (Family.SUPPLY, (*SUPPLY, *EXTRA_LOW, *PLACES)),
    (Family.NEUTRAL_AND_EARTH, (*EARTHS, *NEUTRALS, *POINTS)),
    (Family.IDENTIFICATION, (*IDENTIFICATION, *VALVE_CORES)),
    (Family.TERMINALS, TERMINALS),
    (
        Family.CALLS,
        (
            *CALLS_ZONES,
            *CALLS_LOOPS,
            *CALLS_DIVERTER,
            *CALLS_BOILER,
            *EXTRA_LOW_CALLS,
            *CALLS_FROST,
            *CALLS_LIVES,
            *CALLS_HUNTING,
            *CALLS_WATER,
            *TURNED_CONTACTS,
            *INDICATOR_LAMPS,
        ),
    ),
    (Family.HOT_WATER, (*HOT_WATER, *UNVENTED_CYLINDERS, *UNVENTED_VALVES)),
    (Family.LOADS, LOADS),
    (Family.DWELLINGS, DWELLINGS),
    (Family.RECORD, (*RECORD, *ACCEPTANCES)),
)
ALL: tuple[Rule, ...] = tuple(rule for _, rules in FAMILIES for rule in rules)


class RuleCrashed(HearthbookError):
    """A rule failed on a record: our fault, never the record's. The cause is chained."""

    def __init__(self, rule: str, record: str, reason: str) -> None:
        super().__init__(rule, record, reason)
        self.rule = rule
        self.record = record
        self.reason = reason

    @property
    def message(self) -> str:
        """Which rule, on which record, and why."""
        return f"the rule `{self.rule}` failed on the record {self.record}: {self.reason}. This is a fault of Hearthbook"


def rule_named(name: str) -> Rule | None:
    """The rule of that name, None where there is none."""
    return next((rule for rule in ALL if rule.name == name), None)


def check_rules(subject: Subject, shared: Sequence[Finding] | None = None) -> tuple[Finding, ...]:
    """Everything that the rules find in a property, what the firm has accepted turned into notes.

    Args:
        subject: the property. Its solution is not asked for where ``shared`` is given.
        shared: what `find_shared` gave for a record like this one; found now where it is not given.

    Raises:
        RuleCrashed: a rule failed.
    """
    if shared is None:
        shared = find_shared(subject)
    reference = subject.record.property.reference
    own = _held_against(replace(subject, solution=withheld()), [rule for rule in ALL if rule.own], reference)
    found = in_order([*(placed(finding, subject.places) for finding in shared), *own])
    return apply_accepted(found, subject.record.accepted, subject.places, [rule.name for rule in ALL])


def find_shared(subject: Subject) -> tuple[Finding, ...]:
    """What the rules find in every record that is like this one but for its own parts; spans hold paths.

    Raises:
        RuleCrashed: a rule failed.
    """
    record = subject.record
    written = record.model_dump(exclude={"visits", "photos", "accepted"})
    alike = replace(
        subject,
        record=without_own_parts(record),
        places=PathPlaces(written),
        today=withheld(),
        folder=withheld(),
    )
    rules = [rule for rule in ALL if not rule.own]
    return explained(alike, in_order(_held_against(alike, rules, record.property.reference)), ALL)


def _held_against(subject: Subject, rules: Iterable[Rule], reference: str) -> list[Finding]:
    findings: list[Finding] = []
    for rule in rules:
        try:
            findings += rule.check(subject)
        except HearthbookError:
            raise
        except Exception as error:
            reason = f"{type(error).__name__}: {error}"
            raise RuleCrashed(rule.name, reference, reason) from error
    return findings
