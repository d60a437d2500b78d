"""Things that all stay are made without looking for garbage among them.

Knows Python's own collector only.
"""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def all_to_stay() -> Iterator[None]:
    """Look for no garbage while things are made that all stay: with many of them that takes longer than making them."""
    at_work = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if at_work:
            gc.enable()
