"""The Jinja2 environments of the pages: escaping on, undefined names an error."""

import re
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from generator.compiled_templates import compiled
from generator.templates import templates_dir
from generator.views.glance import alike


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
        bytecode_cache=compiled(__file__, "whole" if keep_trailing_newline else "cut"),
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
