"""The pages of a property: their folders, names and headings, and of which pieces each is put together.

Knows names only, nothing of what a piece shows.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Tab:
    """One page of a property.

    Attributes:
        folder: Its folder below the property's own; empty for the first page.
        name: Its short name, for the links from page to page.
        heading: Its heading, which says what the page tells.
        kind: What sort of page it is, for the frame.
        pieces: Names of the templates that it is put together from, in order.
        chooses: Whether something on it depends on the state of the controls.
    """

    folder: str
    name: str
    heading: str
    kind: str
    pieces: tuple[str, ...]
    chooses: bool = False


GLANCE = Tab(
    folder="",
    name="At a glance",
    heading="At a glance: what is unusual, what is wrong, where things are",
    kind="property-glance",
    pieces=("glance",),
)
WIRING = Tab(
    folder="wiring/",
    name="Wiring",
    heading="Wiring: which conductor is in which terminal",
    kind="property-wiring",
    pieces=("wiring_drawings", "cautions", "wiring_tables"),
    chooses=True,
)
CALLS = Tab(
    folder="calls/",
    name="How it calls for heat",
    heading="How each zone calls for heat",
    kind="property-calls",
    pieces=("calls", "cautions"),
    chooses=True,
)
READINGS = Tab(
    folder="readings/",
    name="Readings",
    heading="Readings: what a meter shows at each terminal",
    kind="property-readings",
    pieces=("readings_intro", "readings_to_neutral", "readings_to_earth", "readings_notes"),
    chooses=True,
)
OVERRIDES = Tab(
    folder="overrides/",
    name="Overrides",
    heading="Overrides: what the tenant may do meanwhile, and the proof",
    kind="property-overrides",
    pieces=("overrides",),
)
RECORD = Tab(
    folder="record/",
    name="Record",
    heading="Record: visits, pictures and the record as written",
    kind="property-record",
    pieces=("record", "record_text"),
)
PACK = Tab(
    folder="pack/",
    name="Pack to print",
    heading="Pack: everything about this house, to print or to work from",
    kind="property-pack",
    pieces=(),
    chooses=True,
)
TABS = (GLANCE, WIRING, CALLS, READINGS, OVERRIDES, RECORD, PACK)
"""Every page of a property, in the order of the links between them."""

PACKED = (
    (GLANCE, GLANCE.heading, GLANCE.pieces),
    (WIRING, WIRING.heading, WIRING.pieces),
    (CALLS, CALLS.heading, ("calls",)),
    (READINGS, READINGS.heading, ("readings_intro", "readings_to_earth", "readings_notes")),
    (OVERRIDES, OVERRIDES.heading, ("overrides",)),
    (RECORD, "Record: visits and pictures", ("record",)),
)
"""The parts of the pack, each a page, the heading of the part, and those of its pieces that the pack has.

Readings to neutral stand beside the terminals already, and the raw record is for those who keep it.
"""
