"""What the commands that need the firm's settings share: where the settings are, the secret, and the tenants' sentences.

It must not know what a command does with them.
"""

from pathlib import Path

import click

from generator.command.exits import CACHE_PLACE
from generator.command.findings_text import gnu_line
from generator.findings.errors import CannotReadFile
from generator.site.config import FILE_NAME, NOT_SET, FirmConfig, read_config
from generator.views.tenant_wording import Wording, load_wordings

config_option = click.option(
    "--config",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help=f"The firm's settings; without it {FILE_NAME} here, or beside the records.",
)


def firm_settings(given: Path | None, folder: Path) -> tuple[Path, FirmConfig]:
    """The firm's settings and the file they are in, which need not exist when none was named."""
    if given is not None and not given.exists():
        raise CannotReadFile(str(given), "there is no such file")
    places = (Path(FILE_NAME), folder / FILE_NAME)
    file = given or next((place for place in places if place.exists()), places[0])
    firm = read_config(file)
    context = click.get_current_context(silent=True)
    if context is not None:
        context.meta[CACHE_PLACE] = firm.cache_dir
    return file, firm


def tenants_secret(firm: FirmConfig, *keep_out_of: Path) -> bytes:
    """The secret behind the tenants' addresses; says so when it was made just now."""
    from generator.site.tenant_address import tenant_secret

    secret, advice = tenant_secret(firm.secret_file, keep_out_of=keep_out_of)
    if advice:
        click.echo(advice, err=True)
    return secret


def wordings_told(folder: Path, firm: FirmConfig) -> dict[str, Wording]:
    """The tenants' sentences in every language; says what is missing or wrong in them, and stops at none of it."""
    wordings, findings = load_wordings(folder)
    for finding in findings:
        click.echo(gnu_line(finding), err=True)
    if firm.tenants.language not in wordings:
        click.echo(
            f"There are no sentences in the language `{firm.tenants.language}`, so tenants' pages are in English.",
            err=True,
        )
    return wordings


def tell_not_set(firm: FirmConfig) -> None:
    """Say what the tenants' pages and labels lack because nobody has set it."""
    if firm.firm.phone == NOT_SET:
        click.echo(
            "Tenants' pages give no number of the firm: `firm.phone` is not set in the settings.", err=True
        )
    for name, base in (("tenants", firm.published.tenants), ("engineers", firm.published.engineers)):
        if not base:
            click.echo(
                f"Labels have no codes for {name}: `published.{name}` is not set in the settings.", err=True
            )
