"""The Jinja2 environments of the pages: escaping on, undefined names an error."""

import re
import sys
from contextlib import suppress
from functools import cache
from hashlib import sha256
from importlib.util import cache_from_source
from pathlib import Path

import jinja2
from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup, escape

from generator.templates import templates_dir
from generator.views.glance import alike


class _Compiled(FileSystemBytecodeCache):
    """Templates as they were compiled, beside our own compiled modules; where one cannot be read or written it is compiled again."""

    def load_bytecode(self, bucket: Bucket) -> None:
        try:
            super().load_bytecode(bucket)
        except Exception:  # noqa: BLE001  # whatever a file that was cut short leads to
            bucket.reset()

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


def _compiled(sort: str) -> _Compiled | None:
    """Those of environments of one sort, which compile a template alike; None where Python keeps no compiled modules."""
    if sys.dont_write_bytecode:
        return None
    folder = Path(cache_from_source(__file__)).parent
    # What environments are like is written in this file.
    made_by = sha256(Path(__file__).read_bytes() + jinja2.__version__.encode()).hexdigest()[:8]
    return _Compiled(str(folder), f"template-{made_by}-{sort}-%s.cache") if folder.is_dir() else None


def escaping(*, keep_trailing_newline: bool = False) -> Environment:
    """An environment over the templates, with every text escaped and undefined names an error."""
    return Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=keep_trailing_newline,
        auto_reload=False,
        # Nothing is worked out while a template is compiled: what is kept must not depend on our filters.
        optimized=False,
        bytecode_cache=_compiled("whole" if keep_trailing_newline else "cut"),
    )


@cache
def environment() -> Environment:
    """The environment; templates are read once a process."""
    made = escaping()
    made.filters["ticks"] = ticks
    made.filters["alike"] = alike
    return made


def ticks(text: str) -> Markup:
    """The text, escaped, with what stands between backticks as code."""
    return Markup(re.sub(r"`([^`]+)`", r"<code>\1</code>", str(escape(text))))  # noqa: S704  # escaped just now
