"""The commands that make the sites: `build` both, `serve` one on this machine.

It must not know what is on a page.
"""

import sys
from collections.abc import Callable
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from typing import Self

import click

from generator.command.built_stock import told
from generator.command.check import tell_not_checked
from generator.command.files import list_files
from generator.command.firm import config_option, firm_settings, tell_not_set, tenants_secret, wordings_told
from generator.command.options import jobs_option, properties_option, this_day
from generator.command.progress import progress
from generator.command.summary import number_of
from generator.findings.errors import HearthbookError
from generator.site.ledger import any_records
from generator.site.page import SiteContent
from generator.site.publish_tenants import nowhere
from generator.site.sites import Sites
from generator.site.stage import Stage
from generator.site.stock_build import StockBuild
from generator.site.stock_written import StockWritten


class MixedOutputs(HearthbookError):
    """Two folders that different people get to see lie in one another."""

    def __init__(self, one: Path, other: Path) -> None:
        super().__init__(one, other)
        self.one = one
        self.other = other

    @property
    def message(self) -> str:
        return (
            f"{self.one} and {self.other} lie in one another, and they are for different readers; name others"
        )


@click.command(short_help="Write both sites.")
@properties_option
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Where the engineers' site goes.  [default: as the firm's settings say, or site]",
)
@click.option(
    "--tenants-out",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Where the tenants' site goes.  [default: as the firm's settings say, or site-tenants]",
)
@config_option
@jobs_option
def build(folder: Path, out: Path | None, tenants_out: Path | None, config: Path | None, jobs: int) -> None:
    """Check all records, then write both sites, each in the place of the old one when it is whole.

    Findings do not stop it: every property has its pages, and they show what is wrong. It ends with 0 when both
    sites were written, and 2 when they could not be.

    \b
    Examples:
      hearthbook build
      hearthbook build --properties properties --out site --tenants-out site-tenants
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    settings, firm = firm_settings(config, folder)
    engineers, tenants = out or firm.engineers_dir, tenants_out or firm.tenants_dir
    _keep_apart(engineers, tenants, folder)
    if not folder.is_dir() or not any_records(folder):
        list_files((folder,))  # says what is wrong with the folder
    secret = tenants_secret(firm, engineers, tenants, folder)
    wordings = wordings_told(folder, firm)
    tell_not_set(firm)
    with _Steps("making pages of", "properties") as step:
        stock = StockBuild(folder, firm, today=this_day(), jobs=jobs, step=step)
        sites = Sites(
            stock,
            engineers=engineers,
            tenants=tenants,
            secret=secret,
            nowhere=nowhere(firm, wordings),
            frames_depend_on=firm.firm.login_note or "",
        )
        done = sites.build(partial(_write, folder, settings))
    _tell(done.stock, stock, folder)
    pages = number_of(done.engineers.pages, "page", "pages")
    changed = number_of(done.engineers.changed, "file", "files")
    sheets = number_of(len(done.stock.entries), "sheet", "sheets")
    click.echo(f"Engineers' site: {_shown(engineers)} ({pages}, {changed} changed)")
    click.echo(f"Tenants' site:   {_shown(tenants)} ({sheets})")
    click.echo("To look at them on this machine, run one of")
    for port, site in ((8000, engineers), (8001, tenants)):
        click.echo(f"  {_python()} -m http.server {port} --bind 127.0.0.1 --directory {_shown(site)}")
    click.echo("and open http://127.0.0.1:8000/ or http://127.0.0.1:8001/ with a browser.")
    click.echo(
        "`hearthbook address REFERENCE` tells where a property's sheet is: the tenants' site has no list."
    )


@click.command(
    short_help="Show the engineers' site on this machine, and again after each change of a record."
)
@properties_option
@config_option
@click.option(
    "--address",
    default="127.0.0.1:8000",
    show_default=True,
    metavar="HOST:PORT",
    help="Where to show it. Another host than 127.0.0.1 shows addresses and wiring to the whole network.",
)
def serve(folder: Path, config: Path | None, address: str) -> None:
    """Show the engineers' site on this machine, and again after each change of a record. Ctrl-C ends it.

    It is for looking while records are written; what goes to a web server comes from `hearthbook build`.

    \b
    Example:
      hearthbook serve --address 127.0.0.1:8080
    """  # noqa: D301  # the same
    from generator.plugin import serve_site

    settings, _ = firm_settings(config, folder)
    if not folder.is_dir() or not any_records(folder):
        list_files((folder,))  # the same
    click.echo(
        f"The engineers' site will be at http://{address}/ once it is written; Ctrl-C ends this.", err=True
    )
    serve_site(properties=folder, settings=settings, address=address)


def _keep_apart(engineers: Path, tenants: Path, properties: Path) -> None:
    """Refuse to write a site into the other, or over the records."""
    places = [path.resolve() for path in (engineers, tenants, properties)]
    for number, one in enumerate(places):
        for other in places[number + 1 :]:
            if one.is_relative_to(other) or other.is_relative_to(one):
                raise MixedOutputs(one, other)


def _write(folder: Path, settings: Path, site: Path, older: Path | None, content: SiteContent) -> Stage:
    """Write the engineers' site whole."""
    from generator.plugin import write_site

    return write_site(site, older, properties=folder, settings=settings, maker=lambda *_: content)


def _tell(written: StockWritten, stock: StockBuild, folder: Path) -> None:
    """Say what endangers somebody, and in one line what the records are like; all findings are on the pages."""
    said = told(written, stock, folder)
    for line in said.dangers:
        click.echo(line)
    for warning in written.warnings:
        click.echo(f"warning: {warning}", err=True)
    click.echo(said.summary)
    if said.found:
        click.echo(f"`hearthbook check {_shown(folder)}` tells all of them; so do the pages.")
    if said.check is not None:
        tell_not_checked(said.check)


class _Steps:
    """Says how far a job has come, once it is known how long it is."""

    def __init__(self, doing: str, of: str) -> None:
        self._doing = doing
        self._of = of
        self._stack = ExitStack()
        self._step: Callable[[], None] | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._stack.close()

    def __call__(self, done: int, total: int) -> None:
        del done
        if self._step is None:
            self._step = self._stack.enter_context(progress(self._doing, total, self._of))
        self._step()


def _shown(path: Path) -> str:
    """A path from here where it lies below here."""
    try:
        return str(path.resolve().relative_to(Path.cwd()))
    except ValueError:
        return str(path)


def _python() -> str:
    """Python as the user can call it."""
    own, here = Path(sys.executable), Path.cwd()
    return str(own.relative_to(here)) if own.is_relative_to(here) else "python3"
