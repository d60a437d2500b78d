"""The commands about tenants' pages: where a property's is, a new address when a tenancy ends, and the sentences.

It must not know what is on a page.
"""

from pathlib import Path

import click

from generator.command.files import record_file
from generator.command.firm import config_option, firm_settings, tenants_secret
from generator.command.options import properties_option, this_day


@click.command(short_help="Tell where a property's page is in the tenants' site, or give it a new address.")
@click.argument("records", nargs=-1, required=True, metavar="REFERENCE...")
@properties_option
@config_option
@click.option(
    "--renew",
    is_flag=True,
    help="Give each of them a new address, as when a tenancy ends. The old one then says only whom to call.",
)
def address(records: tuple[str, ...], folder: Path, config: Path | None, renew: bool) -> None:
    """Tell where a property's page is in the tenants' site: its address below that site, one a line.

    Whoever has it can read the page: give it to that tenant only. When a tenancy ends, renew it, build the sites again and
    put up a new label. How often it was renewed is kept in tenancies.csv beside the records: keep that file with them.

    \b
    Examples:
      hearthbook address EB-0012
      hearthbook address EB-0012 --renew
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    from generator.site.tenancies import FILE_NAME, read_tenancies
    from generator.site.tenancies import renew as renew_address
    from generator.site.tenant_address import tenant_address

    _, firm = firm_settings(config, folder)
    files = [record_file(each, folder) for each in records]
    secret = tenants_secret(firm, firm.engineers_dir, firm.tenants_dir, folder)
    tenancies = read_tenancies(folder)
    if renew:
        for file in dict.fromkeys(files):
            tenancies[file.stem] = renew_address(folder, file.stem, on=this_day())
    base = f"{firm.published.tenants.rstrip('/')}/" if firm.published.tenants else ""
    for file in files:
        place = tenant_address(file.stem, secret, tenancy=tenancies.get(file.stem, 0))
        click.echo(f"{file.stem}  {base}{place}/")
    if renew:
        click.echo(
            f"Noted in {folder / FILE_NAME}. Now run `hearthbook build`, and put up new labels: the old codes lead to a "
            "page that says only whom to call.",
            err=True,
        )


@click.command(short_help="Print every sentence of the tenants' pages, to be put into another language.")
def wording() -> None:
    """Print every sentence of the tenants' pages and labels in English, as the file that a translation starts from.

    Save the translation as wording/TAG.yaml beside the records, TAG being the language's tag, and choose it in the settings
    (`tenants: {language: cy}`) or in a record (`property: {language: cy}`). What it leaves out is said in English.

    \b
    Example:
      hearthbook wording > properties/wording/cy.yaml
    """  # noqa: D301  # the same
    from generator.views.tenant_wording import english_file

    click.echo(english_file().read_text(encoding="utf-8"), nl=False)
