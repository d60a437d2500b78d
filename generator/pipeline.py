"""The one pipeline: a file in; its record, circuit, states and findings out, as far as each could be made.

Never stops at the first fault and never raises for a fault of the record.
"""

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path

from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.findings.errors import HearthbookError
from generator.findings.finding import Finding, Severity, Span, in_order
from generator.kept.store import Kept, digest_of
from generator.record.file_names import shown_path
from generator.record.load import LoadedRecord, load_as_built, load_house_type, load_record, load_text
from generator.record.model import Record
from generator.record.own_kinds import digests_of_own
from generator.record.own_parts import FILE, own_data, withheld, without_own_parts
from generator.rules.record_itself import SECRET_IN_RECORD
from generator.rules.rule import Subject
from generator.rules.rules import check_rules, find_shared
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is known of one record without its solution, which `alike` gives with the rest that records share.

    ``key`` is a digest of all that the solution and everything made from it alone depend on, the same for all records
    that are alike; empty where there is no solution.
    """

    loaded: LoadedRecord
    circuit: Circuit | None
    findings: tuple[Finding, ...]
    key: str

    @property
    def unsolved(self) -> Examination:
        """The examination of a record without solution."""
        return Examination(loaded=self.loaded, circuit=self.circuit, solution=None, findings=self.findings)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shared:
    """What the rules found in all records that are alike, or why these could not be solved."""

    findings: tuple[Finding, ...]
    too_many_states: str = ""


def examine_known(file: Path, *, today: date, kept: Kept) -> Known:
    """Examine the record in a file, with what is kept of records like it. It finds what `examine` finds.

    Raises:
        OSError: the file cannot be read.
    """
    loaded = load_record(file)
    findings = list(loaded.findings)
    if loaded.record is None:
        findings += [*_names(loaded), *_secrets(loaded)]
        return Known(loaded=loaded, circuit=None, findings=in_order(findings), key="")
    built = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places, lost=loaded.lost)
    findings += built.findings
    if any(finding.severity >= Severity.ERROR for finding in findings):
        findings += _secrets(loaded)
        return Known(loaded=loaded, circuit=built.circuit, findings=in_order(findings), key="")
    key = _key(loaded, file.parent)
    shared = kept.remembered("rules", key, lambda: _shared(loaded, kept, key))
    if shared.too_many_states:
        findings += [_too_many_states(loaded, shared.too_many_states), *_secrets(loaded)]
        return Known(loaded=loaded, circuit=built.circuit, findings=in_order(findings), key="")
    subject = Subject(
        record=loaded.record,
        circuit=built.circuit,
        places=loaded.places,
        solution=withheld(),
        today=today,
        folder=file.parent,
    )
    found = in_order([*findings, *check_rules(subject, shared.findings)])
    return Known(loaded=loaded, circuit=built.circuit, findings=found, key=key)


def alike(known: Known, kept: Kept) -> Examination:
    """The examination of any record alike, its own parts marked or withheld; spans of its findings hold paths.

    Args:
        known: a record with a key.
        kept: what it was examined with.
    """
    solution = _solution(known.loaded, kept, known.key)
    shared = kept.remembered("rules", known.key, lambda: _shared(known.loaded, kept, known.key))
    return Examination(
        loaded=_without_own_parts(known.loaded),
        circuit=solution.circuit,
        solution=solution,
        findings=shared.findings,
    )


def _key(loaded: LoadedRecord, folder: Path) -> str:
    data = loaded.document.data if loaded.document is not None else {}
    used = {kind.name for kind in loaded.kinds.values()}
    return digest_of(own_data(data), [each for each in digests_of_own(folder) if each[0] in used])


def _without_own_parts(loaded: LoadedRecord) -> LoadedRecord:
    record = loaded.record
    return replace(
        loaded,
        file=FILE,
        text=withheld(),
        record=None if record is None else without_own_parts(record),
        findings=(),
    )


def _solution(loaded: LoadedRecord, kept: Kept, key: str) -> Solution:
    """The solution of the circuit without own parts; held in memory for whoever needs it next."""
    held = kept.at_hand("solution", key)
    if isinstance(held, Solution):
        return held
    record = _without_own_parts(loaded).record
    if record is None:
        raise AssertionError(loaded.file)
    bare = record.model_copy(update={"photos": []})
    circuit = build_circuit(bare, loaded.kinds, loaded.settings, loaded.places).circuit
    return kept.hold("solution", key, solve(circuit))


def _shared(loaded: LoadedRecord, kept: Kept, key: str) -> _Shared:
    record = loaded.record
    if record is None:
        raise AssertionError(loaded.file)
    try:
        solution = _solution(loaded, kept, key)
    except TooManyStates as error:
        return _Shared(findings=(), too_many_states=error.message)
    subject = Subject(
        record=record,
        circuit=solution.circuit,
        places=loaded.places,
        solution=solution,
        today=withheld(),
        folder=withheld(),
    )
    return _Shared(findings=find_shared(subject))


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
        return build_circuit(
            loaded.record, loaded.kinds, loaded.settings, loaded.places, lost=loaded.lost
        ).findings
    rest = loaded.salvaged
    if rest is None:
        return ()
    return build_circuit(rest.record, loaded.kinds, loaded.settings, rest.places, lost=rest.lost).findings


def _examine(loaded: LoadedRecord, *, today: date, folder: Path | None) -> Examination:
    findings = list(loaded.findings)
    if loaded.record is None:
        findings += [*_names(loaded), *_secrets(loaded)]
        return Examination(loaded=loaded, circuit=None, solution=None, findings=in_order(findings))
    built = build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places, lost=loaded.lost)
    findings += built.findings
    if any(finding.severity >= Severity.ERROR for finding in findings):
        findings += _secrets(loaded)
        return Examination(loaded=loaded, circuit=built.circuit, solution=None, findings=in_order(findings))
    try:
        return _solved(loaded, loaded.record, built.circuit, findings, today=today, folder=folder)
    except TooManyStates as error:
        findings += [_too_many_states(loaded, error.message), *_secrets(loaded)]
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


def _too_many_states(loaded: LoadedRecord, why: str) -> Finding:
    return Finding(
        rule="too-many-states",
        severity=Severity.ERROR,
        message=f"{why}: no reading, no path and no rule about what is live was worked out",
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
    """The day that date rules go by: today, or that of SOURCE_DATE_EPOCH for a build that can be repeated.

    Raises:
        HearthbookError: SOURCE_DATE_EPOCH is beyond the calendar.
    """
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    if fixed.isascii() and fixed.isdigit():
        try:
            return datetime.fromtimestamp(int(fixed), tz=UTC).date()
        except (ValueError, OverflowError, OSError) as error:
            raise HearthbookError(f"SOURCE_DATE_EPOCH is `{fixed[:40]}`, beyond the year 9999") from error
    return datetime.now().astimezone().date()


def worst(findings: Iterable[Finding]) -> Severity | None:
    """The worst severity among findings, None where there are none."""
    return max((finding.severity for finding in findings), default=None)
