"""Names that ids and classes are made from, so that no text of a record can break out of them.

It knows characters only, not what they name.
"""

import re
from hashlib import blake2s

_PREFIX = re.compile(r"[A-Za-z][A-Za-z0-9-]*")


def css_token(text: str) -> str:
    """Return `text` with every character but ASCII letters, digits and hyphens written as `_hex_`.

    No two texts give the same token, and a token is safe in an id, a class and a selector once a letter precedes it.
    """
    return re.sub(r"[^A-Za-z0-9-]", lambda match: f"_{ord(match[0]):x}_", text)


def element_id(prefix: str, kind: str, *names: str) -> str:
    """Return the id of one element; different names never give the same id."""
    # An empty escape `__` is never part of a token, so it can part them.
    return f"{prefix}-{kind}-{'__'.join(css_token(name) for name in names)}"


def state_class(state: str) -> str:
    """Return the class that, on the drawing or on anything around it, shows `state`."""
    return f"state-{css_token(state)}"


def live_class(prefix: str, live_in: tuple[str, ...]) -> str:
    """Return the class shared by all that is live in the same states: the same in every form of a drawing.

    It is empty for what is live in none.
    """
    if not live_in:
        return ""
    return f"{prefix}-l{_digest(*sorted(set(live_in)))}"


def on_class(prefix: str, on_in: tuple[str, ...]) -> str:
    """Return the class shared by all that is on (a contact made, water moving) in the same states; empty for none."""
    return f"{prefix}-o{_digest(*sorted(set(on_in)))}" if on_in else ""


def core_class(prefix: str, core: str) -> str:
    """Return the class of one core's parts: the same in every form of a drawing."""
    return f"{prefix}-c-{css_token(core)}"


def _digest(*texts: str) -> str:
    return blake2s("\0".join(texts).encode(), digest_size=5).hexdigest()


def is_prefix(text: str) -> bool:
    """Tell whether `text` may begin the ids of a drawing."""
    return _PREFIX.fullmatch(text) is not None
