"""What a tenant's page shows, as plain data: phrases of the wording catalogue, pictures by name, places from the record.

Knows neither how any of it was found out nor how it is drawn.
"""

from dataclasses import dataclass

from generator.views.tenant_wording import Phrase, Wording


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A picture of a control by the name of its drawing, with what it shows in words.

    ``of`` is how many buttons a timer has and ``which`` the one that is meant, from 1; both 0 for other pictures.
    ``tank`` draws the hot water cylinder beside it.
    """

    name: str
    says: Phrase
    of: int = 0
    which: int = 0
    tank: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownStep:
    """One movement: what to do, the picture of what is moved, and where it is in this house.

    ``number`` counts from 1 over the whole sheet. ``part`` and ``place`` are the record's own words, empty where the
    step moves no device.
    """

    number: int
    says: Phrase
    more: tuple[Phrase, ...]
    picture: Picture
    part: str
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownTry:
    """Steps that belong together, and what to look for after them."""

    steps: tuple[ShownStep, ...]
    look: tuple[Phrase, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownSymptom:
    """One sheet of paper: what the tenant sees, what to do about it, and how to put it back.

    ``tries`` is empty where there is nothing to move; ``why`` then says why. ``first`` is what must be read before the first step.
    """

    slug: str
    heading: Phrase
    rest: tuple[Phrase, ...]
    first: tuple[Phrase, ...]
    tries: tuple[ShownTry, ...]
    why: tuple[Phrase, ...]
    meanwhile: tuple[Phrase, ...]
    works: tuple[Phrase, ...]
    put_back: tuple[ShownStep, ...]
    put_back_by: tuple[Phrase, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """Somebody to ring: who, the number (empty where it is said in words), and the words."""

    name: Phrase
    phone: str
    words: tuple[Phrase, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Firm:
    """The firm as tenants know it; ``phone`` is empty where none is set.

    ``right_to_repair`` where its tenants are a council's, whose repairs have times by law.
    """

    name: str
    phone: str
    right_to_repair: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TenantPage:
    """Everything on the page of one property. ``home`` is its address, empty where it may not or cannot be told.

    ``repair`` is by when the law wants it mended, empty where no law is known to.
    """

    wording: Wording
    home: str
    firm: Firm
    stop: tuple[Phrase, ...]
    never: tuple[Phrase, ...]
    numbers: tuple[Number, ...]
    why: tuple[Phrase, ...]
    sheets: tuple[ShownSymptom, ...]
    revision: str
    repair: tuple[Phrase, ...] = ()
