"""The command `bench stock`: how long a made-up stock takes to check and to build, against other ways of writing the pages.

It measures and judges nothing. What is timed is the program itself, run as anybody runs it.
"""

import sys
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import click

from generator.command.bench_runs import (
    Run,
    peak_mib,
    run_build,
    run_check,
    seconds_until,
    served,
    unshared_check,
    write_settings,
)
from generator.command.made_up_stock import made_up_stock
from generator.command.options import jobs_option, this_day
from generator.command.page_text import paragraph, table
from generator.command.terminal import width_of
from generator.findings.errors import CannotWriteFile, why_not_written
from generator.pages.tabs import TABS

_SAVED = 4
_REWIRED = 3
"""In how many houses one core is given another colour: nothing of such a house is known from another."""
_CORE = "core: BK}"
"""What is recorded of that core, in a house whose wiring stands in its own record."""
_EDITED = 2
"""Which part of the stock, counted from its middle on, has its edited record: one like many others."""


@click.command(short_help="A made-up stock, checked and built, against other ways of writing the pages.")
@click.option(
    "--properties",
    "count",
    type=click.IntRange(10, 100_000),
    default=300,
    show_default=True,
    help="How many properties the made-up stock has.",
)
@click.option("--seed", type=int, default=1, show_default=True, help="Another seed makes another stock.")
@click.option(
    "--plain",
    type=click.IntRange(1, 5_000),
    default=40,
    show_default=True,
    help="Of how many of them the pages are written in the other ways too; figures are scaled up from there.",
)
@click.option(
    "--write",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Only write the records into this folder, which must be empty or absent, and measure nothing.",
)
@jobs_option
def stock(count: int, seed: int, plain: int, write: Path | None, jobs: int) -> None:
    """Make up a stock, then check it and build both sites: from nothing, again, and after one edit.

    The finished pages of some properties are also written by the program that writes the hand-written ones, given as
    Markdown, and by a bare loop over a template, as the floor. Needs room: a property takes half a megabyte or more.

    \b
    Examples:
      hearthbook bench stock
      hearthbook bench stock --properties 10000 --plain 300
      hearthbook bench stock --properties 10000 --write made-up
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    if write is not None:
        written = write_stock(write, count, seed)
        click.echo(
            f"{written} files are in {write}. Build them with `hearthbook build --properties {write}`."
        )
        return
    with TemporaryDirectory(prefix="hearthbook-bench-", dir=Path.cwd()) as place:
        _measure(Path(place), count=count, seed=seed, plain=min(plain, count), jobs=jobs)


def write_stock(folder: Path, count: int, seed: int) -> int:
    """Write a made-up stock into a folder that is empty or absent, and return how many files it has.

    Raises:
        CannotWriteFile: there is something in it, or the machine refuses.
    """
    if folder.exists() and any(folder.iterdir()):
        raise CannotWriteFile(str(folder), "it is not empty")
    files = 0
    for path, text in made_up_stock(count, seed=seed):
        file = folder / path
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text, encoding="utf-8")
        except OSError as error:
            raise CannotWriteFile(str(file), why_not_written(error)) from error
        files += 1
    return files


def _measure(place: Path, *, count: int, seed: int, plain: int, jobs: int) -> None:
    today, folder = this_day(), place / "properties"
    write_stock(folder, count, seed)
    click.echo(f"{count} properties, seed {seed}, {jobs} processes", err=True)
    settings = write_settings(place)
    checked = run_check(folder, jobs)
    unshared = unshared_check(folder, min(count, 4 * plain), today)
    cold = run_build(folder, settings, jobs)
    warm = run_build(folder, settings, jobs)
    files = sorted(folder.glob("*.yaml"))[count // _EDITED :]
    file = files[0]
    _change(file, "a leak stopped")
    words = run_build(folder, settings, jobs)
    _change(file, "a motor renewed", on=today)
    visit = run_build(folder, settings, jobs)
    own = [file for file in files if _CORE in file.read_text(encoding="utf-8")]
    rewired = [_rewired(file, folder, settings, jobs) for file in own[:_REWIRED]]
    _tell(
        (
            ("check, wiring shared", checked, count),
            ("check, nothing shared, one process", unshared, unshared.properties),
            ("build both sites from nothing", cold, count),
            ("build again, nothing changed", warm, count),
            ("build again, words of one visit changed", words, count),
            ("build again, one visit added", visit, count),
            *(
                (f"build again, a core renamed, house {number}", run, count)
                for number, run in enumerate(rewired, 1)
            ),
        )
    )
    with served(folder, settings) as (port, shown):
        words_saved = _saved(files[:1] * _SAVED, port)
        visits_saved = _saved(files[1 : 1 + _SAVED], port, on=today)
    _tell_served(shown, words_saved, visits_saved)
    _tell_pages(place, folder, plain, count, cold, today)
    click.echo(f"Peak memory of the largest process: {peak_mib():.0f} MiB.")


def _tell(runs: tuple[tuple[str, Run, int], ...]) -> None:
    rows = [
        (
            words,
            f"{properties:,}",
            f"{run.seconds:.2f}",
            f"{run.busy:.2f}",
            f"{properties / run.seconds:,.0f}",
            f"{len(TABS) * properties / run.seconds:,.0f}" if words.startswith("build") else "",
            run.command,
        )
        for words, run, properties in runs
    ]
    head = ("what", "properties", "seconds", "at work", "properties/s", "pages/s", "command")
    for line in table(rows, head=head, right=range(1, 6)):
        click.echo(line)
    click.echo()


def _saved(files: list[Path], port: int, *, on: date | None = None) -> list[float]:
    """How long the served page of each record takes to follow it; the first of them also warms up."""
    taken = []
    for number, file in enumerate(files):
        words = f"valve {number} greased"
        _change(file, words, on=on)
        taken.append(seconds_until(port, f"p/{file.stem}/record/", words))
    return taken


def _tell_served(shown: Run, words: list[float], visits: list[float]) -> None:
    click.echo(f"{shown.command}: the site is there after {shown.seconds:.1f} s.")
    for what, saved in (("words of a visit changed", words), ("a visit added", visits)):
        each = ", ".join(f"{seconds:.2f}" for seconds in saved)
        click.echo(f"From saving a record to its changed page, {what}: {each} s.")
    click.echo()


def _tell_pages(place: Path, folder: Path, plain: int, count: int, cold: Run, today: date) -> None:
    # These bring mkdocs along, which no other command should wait for.
    from generator.command.bench_pages import bare_loop, our_stage, plain_builder, some_pages

    pages = some_pages(folder, plain, place / "cache", today)
    ours, frames = our_stage(pages, place / "stage", folder, today)
    other = plain_builder(pages, place / "plain")
    bare = bare_loop(pages, place / "bare", frames)
    number = len(pages.pages)
    rows = [
        (words, f"{number:,}", f"{run.seconds:.2f}", f"{number / run.seconds:,.0f}", run.command)
        for words, run in (
            ("our page stage, hand-written pages included", ours.whole),
            ("our page stage, properties' pages alone", ours.pages),
            ("mkdocs-material, the same pages as Markdown", other),
            ("bare Jinja2 loop writing the same bytes", bare),
        )
    ]
    for line in table(rows, head=("way", "pages", "seconds", "pages/s", "command"), right=range(1, 4)):
        click.echo(line)
    click.echo()
    scaled = other.seconds * count / plain
    for line in paragraph(
        f"The page stage is {other.seconds / ours.pages.seconds:.0f} times as fast as mkdocs-material given the same pages "
        f"({other.seconds / ours.whole.seconds:.0f} times with the hand-written pages, which take the same time "
        f"however large the stock is), and takes {ours.pages.seconds / bare.seconds:.1f} times as long as the bare loop. "
        f"mkdocs-material would need {scaled:,.0f} s for the pages of all {count:,} properties, scaled from {plain}; the "
        f"whole build, checks and drawings included, took {cold.seconds:,.0f} s: {scaled / cold.seconds:.1f} times as fast. "
        f"A property has {pages.per_property:.0f} pages of {pages.bytes_per_property / 1000:,.0f} kB in all.",
        width_of(sys.stdout),
    ):
        click.echo(line)


def _change(file: Path, words: str, *, on: date | None = None) -> None:
    """Change what was found on the last visit to a property, or add a visit on a day."""
    text = file.read_text(encoding="utf-8").rstrip("\n")
    if on is None:
        text = text[: text.rindex('found: "')] + f'found: "Yearly service, and {words}."}}'
    else:
        text += f'\n  - {{on: {on.isoformat()}, by: heating engineer, found: "Yearly service, and {words}."}}'
    file.write_text(f"{text}\n", encoding="utf-8")


def _rewired(file: Path, folder: Path, settings: Path, jobs: int) -> Run:
    """Build again after one core of a house is recorded in a colour that it did not have."""
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(_CORE, "core: VT}", 1), encoding="utf-8")
    return run_build(folder, settings, jobs)
