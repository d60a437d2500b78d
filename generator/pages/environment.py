"""The one Jinja2 environment of the pages: escaping on, undefined names an error."""

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from generator.templates import templates_dir


@cache
def environment() -> Environment:
    """The environment; templates are read once a process."""
    return Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
