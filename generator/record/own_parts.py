"""What every record has of its own beside houses built alike: reference, address, dates of survey, visits, pictures.

Takes these out of a record and puts marks there, so that what is worked out from the rest can be shared by all records
that are alike in it. Knows which fields they are, not who uses them.
"""

from collections.abc import Callable
from datetime import date
from functools import cache
from typing import Any, NoReturn

from generator.record.model import Record

REFERENCE = "hbOwnReference6d1f"
UPRN = "hbOwnUprn6d1f"
LINE = "hbOwnLine6d1f"
TOWN = "hbOwnTown6d1f"
POSTCODE = "hbOwnPostcode6d1f"
ADDRESS = f"{LINE}, {TOWN}, {POSTCODE}"
"""The address of a record without its own parts, in one line."""
REVISION = "hbOwnRevision6d1f"
FILE = "hbOwnFile6d1f"
BY = "hbOwnBy6d1f"
SHEET = "hbOwnSheet6d1f"
"""Stands for the tenants' page of the record as a whole document."""
ON = date(1, 1, 1)
"""Stands for the day of the record's own survey; no record can hold it."""


class OwnPartUsed(Exception):
    """Something that is shared by many records asked for what only one of them has: our mistake."""

    def __init__(self) -> None:
        super().__init__(
            "something that is worked out once for many houses asked for what each record has of its own. "
            "A rule that does so is marked `own`, a piece of a page that does so is listed as its own"
        )


class Withheld:
    """Stands where a part of one record was: whoever uses it is told that it may not."""

    def _refuse(self, *_: object) -> NoReturn:
        raise OwnPartUsed

    __bool__ = __len__ = __iter__ = __contains__ = __getitem__ = __hash__ = __str__ = __format__ = _refuse
    __lt__ = __le__ = __gt__ = __ge__ = __eq__ = __ne__ = _refuse
    __add__ = __radd__ = __sub__ = __rsub__ = __truediv__ = __call__ = __fspath__ = __html__ = _refuse

    def __repr__(self) -> str:
        return "<withheld>"

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)
        raise OwnPartUsed

    def __reduce__(self) -> tuple[Callable[[], "Withheld"], tuple[()]]:
        return withheld, ()


@cache
def withheld() -> Any:
    """The one stand-in for what may not be used."""
    return Withheld()


def without_own_parts(record: Record) -> Record:
    """The record with marks for its own words and days, and its own lists withheld."""
    about = record.property
    address = about.address.model_copy(update={"lines": [LINE], "town": TOWN, "postcode": POSTCODE})
    return record.model_copy(
        update={
            "property": about.model_copy(update={"reference": REFERENCE, "uprn": UPRN, "address": address}),
            "sure": record.sure.model_copy(update={"on": ON, "by": BY}),
            "visits": withheld(),
            "photos": withheld(),
            "accepted": withheld(),
        }
    )


def own_data(data: dict[str, Any]) -> dict[str, Any]:
    """A record's data as written without its own parts: what houses built alike have in common."""
    common = {key: value for key, value in data.items() if key not in ("visits", "photos", "accepted")}
    for section, own in (("property", ("reference", "uprn", "address")), ("sure", ("on", "by"))):
        if isinstance(common.get(section), dict):
            common[section] = {key: value for key, value in common[section].items() if key not in own}
    return common
