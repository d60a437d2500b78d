"""Options that several commands share, and the sorts of value they take.

It must not know what a command does with them.
"""

from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from generator.command.stock import processors


class Day(click.ParamType[date]):
    """A day written year-month-day."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        if isinstance(value, date):
            return value
        try:
            return datetime.strptime(str(value), "%Y-%m-%d").date()  # noqa: DTZ007  # a day has no time zone
        except ValueError:
            self.fail(f"{value!r} is no day; write it as 2026-03-14", param, ctx)


def this_day() -> date:
    """Today, or the day that a build which can be repeated goes by."""
    from generator.pipeline import today

    return today()


today_option = click.option(
    "--today",
    type=Day(),
    default=this_day,
    metavar="DATE",
    show_default="today",
    help="Judge what depends on the date as on this day, such as 2026-03-14.",
)

jobs_option = click.option(
    "--jobs",
    type=click.IntRange(min=1),
    default=processors,
    metavar="NUMBER",
    show_default="one a processor core",
    help="How many processes may work at once on many files.",
)

properties_option = click.option(
    "--properties",
    "folder",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path("properties"),
    metavar="FOLDER",
    show_default=True,
    help="The folder of records.",
)
