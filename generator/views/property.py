"""Everything that the pages of one property show, as data; made from what the pipeline found."""

from dataclasses import dataclass
from hashlib import sha256
from json import dumps
from typing import TYPE_CHECKING
from urllib.parse import quote

from generator.findings.finding import Finding, Severity
from generator.pipeline import Examination
from generator.record.load import LoadedRecord
from generator.record.model import Record
from generator.rules.record_itself import SECRET_IN_RECORD
from generator.views.glance import Glance, address_line, glance
from generator.views.worked_out import WorkedOut, worked_out

if TYPE_CHECKING:
    from generator.views.solved import Solved

UNREAD_ADDRESS = "Address not read"
WITHHELD_ADDRESS = "Address withheld"
_NOT_READ = "Not shown: the file could not be read."


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyView:
    """All that the pages of one property show.

    ``record`` and ``glance`` are None where the record's shape is wrong, ``worked_out`` and ``solved`` where any value or
    name in it is; ``findings`` then says what to correct. ``solved`` is None too where its pages are there already, from a
    record alike. ``revision`` is of the record with its house type.
    """

    reference: str
    address: str
    revision: str
    record: Record | None
    findings: tuple[Finding, ...]
    glance: Glance | None
    worked_out: WorkedOut | None
    solved: "Solved | None"
    text: str
    file: str

    @property
    def folder(self) -> str:
        """The reference as it stands in an address."""
        return quote(self.reference, safe="")

    @property
    def worst(self) -> Severity | None:
        """The worst severity of its findings."""
        return max((finding.severity for finding in self.findings), default=None)


def property_view(examination: Examination, *, stem: str, known: WorkedOut | None = None) -> PropertyView:
    """The view of an examined record.

    Args:
        examination: What the pipeline found.
        stem: The name of the record's file without its ending.
        known: What was worked out of a record alike, whose pages are there already; worked out now if None.
    """
    if gives_away(examination.findings):
        return _withheld(examination, stem)
    record = examination.record
    told = known or worked_out(examination)
    return PropertyView(
        reference=stem,
        address=address_line(record) if record else UNREAD_ADDRESS,
        revision=revision(examination.loaded),
        record=record,
        findings=examination.findings,
        glance=glance(record, examination.circuit, told, examination.findings) if record else None,
        worked_out=told,
        solved=None if known else _solved(examination),
        text=examination.loaded.text if examination.loaded.document is not None else _NOT_READ,
        file=examination.loaded.file,
    )


def _solved(examination: Examination) -> "Solved | None":
    if examination.record is None or examination.solution is None:
        return None
    # Most builds show no solution: houses built alike have the same, and their pages are kept.
    from generator.views.solved import solved_view

    return solved_view(examination.solution, address_line(examination.record))


def gives_away(findings: tuple[Finding, ...]) -> bool:
    """Whether a secret or a person's data is in the record, and the firm has not accepted that it is none."""
    return any(f.rule == SECRET_IN_RECORD.name and f.severity >= Severity.ERROR for f in findings)


def _withheld(examination: Examination, stem: str) -> PropertyView:
    """A record that is refused: its page says what is wrong and shows nothing that was written."""
    return PropertyView(
        reference=stem,
        address=WITHHELD_ADDRESS,
        revision=revision(examination.loaded),
        record=None,
        findings=tuple(f for f in examination.findings if f.rule == SECRET_IN_RECORD.name),
        glance=None,
        worked_out=None,
        solved=None,
        text="Withheld: the record seems to hold a secret or a person's data, which do not belong in it.",
        file=examination.loaded.file,
    )


def revision(loaded: LoadedRecord) -> str:
    """Eight hexadecimal digits that change with anything in the record or its house type."""
    if loaded.document is None:
        return sha256(loaded.text.encode()).hexdigest()[:8]
    return sha256(dumps(loaded.document.data, ensure_ascii=False).encode()).hexdigest()[:8]
