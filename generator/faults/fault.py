"""One thing that has failed, as a value: what it is called and what it changes in the circuit or in the water.

Knows nothing of how a change is built into a circuit or solved.
"""

from dataclasses import dataclass
from enum import StrEnum


class Of(StrEnum):
    """What a change is made to."""

    CONDUCTOR = "conductor"
    """Cut: ``name`` is the conductor's index."""
    BRIDGE = "bridge"
    """Two points joined that should not be: ``name`` and ``other``."""
    CONTACT = "contact"
    """Stuck made (``on``) or broken."""
    PART = "part"
    """A driven part stuck on or off."""
    INPUT = "input"
    """A control whose contacts no longer follow it: they stay as if it were ``on``, or off."""
    LOAD = "load"
    """Open-circuit, or turning without effect: nothing follows from its being fed."""
    FLOW = "flow"
    """No water passes the circuit of that name, open or not."""
    HEAT = "heat"
    """The boiler makes no heat although it is called; ``name`` is its device."""
    BYPASS = "bypass"
    """The bypass lets nothing through; ``name`` is empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change; ``on`` is the value that something stuck has, ``other`` the second end of a bridge."""

    of: Of
    name: str
    on: bool = False
    other: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A single fault.

    Attributes:
        name: Permanent within the house: the fault's kind and where it is, such as ``motor-open-circuit:hall-valve``.
        words: The same for an engineer.
        device: The device it is in, empty for a fault of a conductor.
        changes: What it changes. Empty where no metallic join and no water path changes.
        unset: Inputs that stay off although they are wanted on, until somebody sets them by hand: a clock that is wrong.
        latched: A lever (its input) that was left latched, empty for none.
        off: A switch (its input) that was left off, empty for none.
        credit: True where credit on the meter puts it right.
        by_work: True for what comes only of work on the wiring, and not overnight.
    """

    name: str
    words: str
    device: str = ""
    changes: tuple[Change, ...] = ()
    unset: tuple[str, ...] = ()
    latched: str = ""
    off: str = ""
    credit: bool = False
    by_work: bool = False

    @property
    def kind(self) -> str:
        """The fault's kind, without where it is."""
        return self.name.split(":", 1)[0]


SOUND = Fault(name="none", words="nothing has failed")
"""The house as it is recorded."""
