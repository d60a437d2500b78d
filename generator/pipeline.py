"""The one pipeline: a file in; its record, circuit, states and findings out, as far as each could be made.

Never stops at the first fault and never raises for a fault of the record.
"""

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path

from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.findings.finding import Finding, Severity, Span, in_order
from generator.record.file_names import shown_path
from generator.record.load import LoadedRecord, load_as_built, load_house_type, load_record, load_text
from generator.record.model import Record
from generator.rules.record_itself import SECRET_IN_RECORD
from generator.rules.rule import Subject
from generator.rules.rules import check_rules
from generator.rules.secrets import secrets_in
from generator.states.answer import Solution
from generator.states.solve import TooManyStates, solve


@dataclass(frozen=True, slots=True, kw_only=True)
class Examination:
    """All that could be made of one record.

    ``circuit`` is None where the record's shape is wrong, ``solution`` where a name in it does not
    exist or a value is wrong, since a circuit with parts left out would be answered wrongly, and where
    there are more states than can be solved.
    """

    loaded: LoadedRecord
    circuit: Circuit | None
    solution: Solution | None
    findings: tuple[Finding, ...]

    @property
    def record(self) -> Record | None:
        """The record, None where its shape is wrong."""
        return self.loaded.record

    @property
    def in_danger(self) -> bool:
        """Whether any finding is of danger."""
        return any(finding.severity is Severity.DANGER for finding in self.findings)


def examine(file: Path, *, today: date) -> Examination:
    """Examine the record in a file.

    Raises:
        OSError: the file cannot be read.
    """
    return _examine(load_record(file), today=today, folder=file.parent)


def examine_text(
    text: str, *, today: date, file: str = "record.yaml", folder: Path | None = None
) -> Examination:
    """Examine a record in memory; house types are looked for in ``folder``."""
    return _examine(load_text(text.encode(), file, folder=folder), today=today, folder=folder)


def examine_house_type(file: Path) -> tuple[Finding, ...]:
    """What is wrong in a house type that no record uses: its shape, and the names and settings in it.

    Not for one that is used, since a record may give what it leaves out.

    Raises:
        OSError: the file cannot be read.
    """
    _, findings = load_house_type(file)
    shown = shown_path(file)
    loaded = load_as_built(file)
    deeper = (*loaded.findings, *_names(loaded))
    return in_order([*findings, *(each for each in deeper if each.span.file == shown)])


def _names(loaded: LoadedRecord) -> tuple[Finding, ...]:
    """What is wrong with the names, as far as the record could be read."""
    if loaded.record is not None:
        return build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places).findings
    rest = loaded.salvaged
    if rest is None:
        return ()
    return build_circuit(rest.record, loaded.kinds, loaded.settings, rest.places, lost=rest.lost).findings


def _examine(loaded: LoadedRecord, *, today: date, folder: Path | None) -> Examination:
    findings = list(loaded.findings)
    if loaded.record is None:
        findings += [*_names(loaded), *_secrets(loaded)]
        return Examination(loaded=loaded, circuit=None, solution=None, findings=in_order(findings))
    built = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places)
    findings += built.findings
    if any(finding.severity >= Severity.ERROR for finding in findings):
        findings += _secrets(loaded)
        return Examination(loaded=loaded, circuit=built.circuit, solution=None, findings=in_order(findings))
    try:
        return _solved(loaded, loaded.record, built.circuit, findings, today=today, folder=folder)
    except TooManyStates as error:
        findings += [_too_many_states(loaded, error), *_secrets(loaded)]
        return Examination(loaded=loaded, circuit=built.circuit, solution=None, findings=in_order(findings))


def _solved(
    loaded: LoadedRecord,
    record: Record,
    circuit: Circuit,
    findings: list[Finding],
    *,
    today: date,
    folder: Path | None,
) -> Examination:
    solution = solve(circuit)
    subject = Subject(
        record=record,
        circuit=circuit,
        places=loaded.places,
        solution=solution,
        today=today,
        folder=folder,
    )
    found = [*findings, *check_rules(subject)]
    return Examination(loaded=loaded, circuit=circuit, solution=solution, findings=in_order(found))


def _too_many_states(loaded: LoadedRecord, error: TooManyStates) -> Finding:
    return Finding(
        rule="too-many-states",
        severity=Severity.ERROR,
        message=f"{error.message}: no reading, no path and no rule about what is live was worked out",
        fix="Nothing in the record is wrong by this. Go by the wiring as it is written, and test; where a part of the house has "
        "a boiler and controls of its own, write that part as a record of its own.",
        span=Span(loaded.file, 1, 1),
    )


def _secrets(loaded: LoadedRecord) -> Iterator[Finding]:
    """What a record gives away that is too broken for the rules: gone through line by line."""
    if loaded.document is None:
        return  # such a file is not published
    for number, line in enumerate(loaded.text.splitlines(), start=1):
        for words in secrets_in(line):
            yield Finding(
                rule=SECRET_IN_RECORD.name,
                severity=SECRET_IN_RECORD.severity,
                message=f"this line seems to give away {words}",
                fix=SECRET_IN_RECORD.fix,
                span=Span(loaded.file, number, 1),
            )


def today() -> date:
    """The day that date rules go by: today, or that of SOURCE_DATE_EPOCH for a build that can be repeated."""
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    if fixed.isdigit():
        return datetime.fromtimestamp(int(fixed), tz=UTC).date()
    return datetime.now().astimezone().date()


def worst(findings: Iterable[Finding]) -> Severity | None:
    """The worst severity among findings, None where there are none."""
    return max((finding.severity for finding in findings), default=None)
