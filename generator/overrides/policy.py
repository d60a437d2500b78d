"""What the firm allows its tenants to do, where more than one answer is right.

Knows nothing of files; the firm's settings are read elsewhere.
"""

from dataclasses import dataclass
from typing import Literal

VentedLever = Literal["not allowed", "with a warning"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """The firm's choices.

    Attributes:
        vented_lever: Whether a tenant may latch the valve to a vented cylinder open. The water is then heated without its
            thermostat whenever anything calls the boiler.
        lever_hours: For how long a lever may stay latched, in hours.
    """

    vented_lever: VentedLever = "not allowed"
    lever_hours: float = 2.0
