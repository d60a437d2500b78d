"""What the whole stock's pages, tables and finder need of one property: one small plain row, made once with it.

Everything about the stock is made from such rows alone; they hold no circuit, no drawing and no text of a record. They
can be pickled, and are named tuples: ten thousand rows are read back at every build, and dataclasses take ten times as
long for that.
"""

from datetime import date
from enum import StrEnum
from typing import NamedTuple, Self
from urllib.parse import quote

from generator.findings.finding import Finding, Severity


class PartGroup(StrEnum):
    """The sorts of part that are carried on the van, by what they do."""

    VALVES = "valves"
    MOTORS = "motors"
    THERMOSTATS = "thermostats"
    TIMERS = "timers"
    PUMPS = "pumps"
    RELAYS = "relays and controllers"
    SAFETY = "safety switches"
    BYPASSES = "bypass valves"
    IMMERSIONS = "immersion heaters"


class StockPart(NamedTuple):
    """A part in a house that a van may carry. Texts are empty and ``fitted`` is None where not recorded.

    Attributes:
        group: What sort of part it is.
        kind: The kind of the device that it is, or that it sits on, by its name in records.
        words: What pages call that part, ``two-port valve``.
        detail: What must fit when it is renewed, ``22 mm, normally open``.
        device: The device in the house, as its pages call it.
        place: Where that is.
        part: The firm's own reference of the part.
        fitted: The day it was fitted.
    """

    group: PartGroup
    kind: str
    words: str
    detail: str
    device: str
    place: str
    part: str
    fitted: date | None


class StockFinding(NamedTuple):
    """A finding, flat: its fields are those of `Finding` and of its span."""

    rule: str
    severity: Severity
    message: str
    fix: str
    file: str
    line: int
    column: int
    holds: str
    subject: str
    cure: str
    example: str

    @classmethod
    def of(cls, finding: Finding) -> Self:
        """The finding without the other places that matter: nothing about the stock shows them."""
        return cls(
            rule=finding.rule,
            severity=finding.severity,
            message=finding.message,
            fix=finding.fix,
            file=finding.span.file,
            line=finding.span.line,
            column=finding.span.column,
            holds=finding.holds,
            subject=finding.subject,
            cure=finding.cure,
            example=finding.example,
        )


class StockCylinder(NamedTuple):
    """A hot water cylinder. ``litres`` is None and texts are empty where not recorded."""

    device: str
    place: str
    system: str
    litres: int | None
    cut_out: str
    relief_valve: str


class Settled(NamedTuple):
    """Digests of what does not change with every visit to a property.

    Attributes:
        listed: Of what stands in the table of all properties.
        findings: Of its findings, with what it is called; empty where there are none.
        fitted: Of its parts, likewise.
        whole: Of all of it.
    """

    listed: str = ""
    findings: str = ""
    fitted: str = ""
    whole: str = ""


class StockRow(NamedTuple):
    """One property, as far as the stock's own pages, tables and finder show it.

    Attributes:
        reference: As its file is named.
        address: In one line, the postcode at its end where there is one.
        arrangement: What the circuit does, in one sentence; empty where there is no circuit.
        kinds: The kinds of its devices, each once as (name in records, words), in record order.
        unusual: What is unusual, by key, each once; empty where ``worked_out`` is false.
        orange: The valves whose permanent live is on the orange core, in words.
        worked_out: Whether the circuit could be solved.
        findings: All that is wrong, by place; of a file that no longer can be read, what is wrong with it now.
        looked_on: The last day on which anybody looked at or tested anything there: the latest of the visits and of
            what is recorded as seen or tested. None where nobody ever did.
        visited_on: The day of the last visit, None where none is recorded.
        csv: Its line of the table of all properties, as finished CSV: that table is written anew with every visit, and few of
            its lines change. Filled by `generator.views.stock_row`.
        settled: Digests of all the above but the days. Filled likewise.
    """

    reference: str
    address: str
    postcode: str = ""
    uprn: str = ""
    nation: str = ""
    fuel: str = ""
    house_type: str = ""
    arrangement: str = ""
    kinds: tuple[tuple[str, str], ...] = ()
    unusual: tuple[str, ...] = ()
    orange: tuple[str, ...] = ()
    worked_out: bool = False
    findings: tuple[StockFinding, ...] = ()
    parts: tuple[StockPart, ...] = ()
    cylinders: tuple[StockCylinder, ...] = ()
    looked_on: date | None = None
    visited_on: date | None = None
    csv: str = ""
    settled: Settled = Settled()

    @property
    def folder(self) -> str:
        """The reference as it stands in an address."""
        return quote(self.reference, safe="")

    @property
    def worst(self) -> Severity | None:
        """The worst severity of its findings."""
        return max((finding.severity for finding in self.findings), default=None)
