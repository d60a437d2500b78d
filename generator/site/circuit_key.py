"""Tells circuits that are the same for a search: alike in everything but who looked at them, when, and remarks.

It must not know what is searched for.
"""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache

from pydantic import BaseModel

from generator.catalogue.kind import Kind
from generator.circuit.model import Certainty, Circuit, How
from generator.kept.store import digest_of

_REMARKS = frozenset({"special", "path"})
"""What is written about a device, and where in the record something stands."""


def circuit_key(circuit: Circuit) -> str:
    """A digest of all that a search may go by. Of how sure something is, it tells what was assumed from the rest."""
    return digest_of(_plain(circuit))


def _plain(value: object) -> object:
    match value:
        case None | bool() | int() | float():
            return value
        case Certainty():
            return value.how is How.ASSUMED
        case Kind():
            return value.name
        case BaseModel():
            return [type(value).__name__, value.model_dump(mode="json")]
        case Enum():
            return str(value)
        case tuple() | list():
            return [_plain(each) for each in value]
        case frozenset() | set():
            return sorted(str(_plain(each)) for each in value)
        case Mapping():
            return {str(key): _plain(each) for key, each in value.items()}
        case _ if is_dataclass(value):
            sort: type = type(value)
            return [sort.__name__, *(_plain(getattr(value, name)) for name in _own_fields(sort))]
        case _:
            return value


@cache
def _own_fields(sort: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(sort) if field.name not in _REMARKS)
