"""A rule as a value, what it is held against, and what it saw.

Knows the shape of rules only: which rules there are is written elsewhere, and how findings are shown is not its business.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from pathlib import Path as FolderPath
from typing import Any, TypeVar, cast

from generator.circuit.model import Circuit
from generator.findings.finding import Finding, Severity
from generator.record.model import Record
from generator.record.places import Path, Places
from generator.states.answer import Answer, Memory, Solution
from generator.states.solve import solve

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"

Made = TypeVar("Made")


class Family(StrEnum):
    """What a rule is about; the order is that of the rules' pages."""

    SUPPLY = "supply and isolation"
    NEUTRAL_AND_EARTH = "neutral and earth"
    IDENTIFICATION = "identification of conductors"
    TERMINALS = "terminals"
    CALLS = "calls for heat"
    HOT_WATER = "hot water"
    LOADS = "loads"
    DWELLINGS = "whole dwellings"
    RECORD = "the record itself"


@dataclass(frozen=True, slots=True)
class When:
    """The states in which something is so.

    ``settled`` counts from rest. ``after`` holds the states where it is so only after a certain history.
    """

    settled: int
    after: tuple[tuple[Memory, int], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.settled or self.after)

    @property
    def total(self) -> int:
        """Every state in which it can be so."""
        total = self.settled
        for _, vector in self.after:
            total |= vector
        return total


@dataclass(frozen=True, eq=False, kw_only=True)
class Subject:
    """One property, as rules see it.

    ``solution`` holds every state with all devices at their normal; other scenarios are solved when a rule
    asks, once. ``today`` is the day on which the record is judged; ``folder`` is where the record lies, None
    where it is not in a file. ``telling`` is False where only what is found counts, not how it is told.
    """

    record: Record
    circuit: Circuit
    places: Places
    solution: Solution
    today: date
    folder: FolderPath | None
    telling: bool = True
    _kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False)

    def once(self, make: Callable[["Subject"], Made]) -> Made:
        """What the function makes of this subject, made at most once."""
        if make not in self._kept:
            self._kept[make] = make(self)
        return cast("Made", self._kept[make])

    def scenario(self, name: str, value: bool, *, unsure: bool = False) -> Solution:
        """Every state with one input held: an isolator open, a lever latched, a cut-out tripped.

        Args:
            name: the input.
            value: what it is held at.
            unsure: what to take for a lever of unknown behaviour.
        """
        key = (name, value, unsure)
        if key not in self._kept:
            self._kept[key] = solve(self.circuit, {name: value}, unsure=unsure)
        return cast(Solution, self._kept[key])

    def when(self, of: Callable[[Answer], int], solution: Solution | None = None) -> When:
        """The states in which something is so, those left out in which line meets neutral or earth.

        In those the fuse has blown, and there is a finding of its own.

        Args:
            of: gives the vector of an answer.
            solution: the scenario, the normal one when left out.
        """
        solution = solution or self.solution
        after = []
        for memory in solution.memories:
            vector = of(memory.answer) & sound(memory.answer, solution)
            if vector:
                after.append((memory, vector))
        return When(of(solution.settled) & sound(solution.settled, solution), tuple(after))

    def ever(self, of: Callable[[Answer], int], solution: Solution | None = None) -> int:
        """The vector of the states in which something can be so."""
        return self.when(of, solution).total


def sound(answer: Answer, solution: Solution) -> int:
    """The states of an answer in which no line point is joined to a neutral or an earth."""
    short = 0
    for supply in solution.circuit.supplies:
        here = answer.joined[supply.line]
        for other in solution.circuit.supplies:
            short |= here[other.neutral] | here[other.earth]
    return answer.at & ~short


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One thing that a rule saw.

    ``path`` is where the record states it (``key`` for the key there, not the value). Empty ``fix`` and
    None for ``severity`` mean the rule's own.
    """

    path: Path
    message: str
    subject: str = ""
    holds: str = ""
    fix: str = ""
    severity: Severity | None = None
    key: bool = False
    related: tuple[tuple[Path, str], ...] = ()
    example: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule.

    Attributes:
        name: Permanent slug of the fault. Records refer to it.
        family: What it is about.
        severity: How bad it is, where the finding does not say otherwise.
        summary: The fault in a few words, as a title.
        why: What happens in the house.
        fix: What to do.
        source: Title and clause or table of the source, or ``COMMON_PRACTICE`` or ``FROM_MEMORY``.
        limits: What it cannot see, or when it keeps quiet; empty where there is nothing to say.
        right: A whole record in which it finds nothing.
        wrong: The same record with the fault.
        implied: Other rules that find something in the wrong record too.
        own: Whether it looks at what each record has of its own beside houses built alike: reference, address, days of
            survey, visits, pictures, the day it is judged. Such a rule is asked for every record and gets no solution;
            any other is asked once for all records that are alike in the rest, and gets none of that.
        look: Finds the fault.
    """

    name: str
    family: Family
    severity: Severity
    summary: str
    why: str
    fix: str
    source: str
    limits: str = ""
    right: str
    wrong: str
    implied: tuple[str, ...] = ()
    own: bool = False
    look: Callable[[Subject], Iterator[Seen]]

    def check(self, subject: Subject) -> Iterator[Finding]:
        """What the rule finds, in no order."""
        places = subject.places
        for seen in self.look(subject):
            yield Finding(
                rule=self.name,
                severity=seen.severity or self.severity,
                message=seen.message,
                fix=seen.fix or self.fix,
                span=places.key(seen.path) if seen.key else places.value(seen.path),
                holds=seen.holds,
                related=tuple((places.value(path), words) for path, words in seen.related),
                subject=seen.subject,
                example=seen.example,
            )
