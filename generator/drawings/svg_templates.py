"""Fills the Jinja2 macros that drawings are written with; all text is escaped on the way.

It knows where the macros are, not what they draw.
"""

import re
from functools import lru_cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from generator.compiled_templates import compiled
from generator.templates import templates_dir

# What XML 1.0 does not allow in a document, however it is written (production 2, Char).
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def _drop_not_xml(value: object) -> object:
    # Only plain text: what the macros made is `Markup`, and was made from cleaned text.
    return _NOT_XML.sub("", value) if type(value) is str else value


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        finalize=_drop_not_xml,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=False,
        auto_reload=False,
        optimized=False,  # as those of pages are: what is compiled is kept
        bytecode_cache=compiled(__file__, "svg"),
    )


def fill(name: str, **values: object) -> str:
    """Return the text that the template `svg/<name>` gives with these values."""
    return _environment().get_template(f"svg/{name}").render(**values)


def number(value: float) -> str:
    """Write a coordinate in px: as short as it goes, and the same on every machine."""
    return f"{value + 0.0:.2f}".rstrip("0").rstrip(".") if value % 1 else str(int(value))
