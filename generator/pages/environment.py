"""The one Jinja2 environment of the pages: escaping on, undefined names an error."""

import re
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from generator.templates import templates_dir
from generator.views.glance import alike


@cache
def environment() -> Environment:
    """The environment; templates are read once a process."""
    made = Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    made.filters["ticks"] = ticks
    made.filters["alike"] = alike
    return made


def ticks(text: str) -> Markup:
    """The text, escaped, with what stands between backticks as code."""
    return Markup(re.sub(r"`([^`]+)`", r"<code>\1</code>", str(escape(text))))  # noqa: S704  # escaped just now
