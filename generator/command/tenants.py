"""The commands about tenants' pages: where a property's is, a new address for it, its label, and the sentences.

It must not know what is on a page.
"""

from pathlib import Path

import click

from generator.command.files import NoRecords, record_file
from generator.command.firm import config_option, firm_settings, tell_not_set, tenants_secret, wordings_told
from generator.command.options import properties_option, this_day
from generator.findings.errors import CannotWriteFile, why_not_written


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
    from generator.site.publish_tenants import below
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
    for file in files:
        place = tenant_address(file.stem, secret, tenancy=tenancies.get(file.stem, 0))
        click.echo(f"{file.stem}  {below(firm.published.tenants, f'{place}/') or f'{place}/'}")
    if renew:
        click.echo(
            f"Noted in {folder / FILE_NAME}. Now run `hearthbook build`, and put up new labels: the old codes lead to a "
            "page that says only whom to call.",
            err=True,
        )


@click.command(short_help="Write labels to print, with the codes of a property's two pages.")
@click.argument("records", nargs=-1, metavar="[REFERENCE...]")
@properties_option
@config_option
@click.option("--all", "every", is_flag=True, help="One for every record in the folder, by reference.")
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    default=Path("labels.html"),
    metavar="FILE",
    show_default=True,
    help="The file to write. It holds tenants' addresses: keep it from others.",
)
def label(records: tuple[str, ...], folder: Path, config: Path | None, every: bool, output: Path) -> None:
    """Write labels to print and to stick up in homes: eight on a sheet of A4, or one alone.

    Each has the reference, a code that leads to the tenant's page, one to the engineers' page, and the three most useful
    lines. Where the sites are is said in the settings (`published: {tenants: ..., engineers: ...}`); without it a label has
    no codes.

    \b
    Examples:
      hearthbook label EB-0012 -o label.html
      hearthbook label --all -o labels.html
    """  # noqa: D301  # the same
    from generator.pages.label_pages import label_sheet_html
    from generator.site.ledger import any_records, record_files
    from generator.site.publish_tenants import labels

    if every == bool(records):
        raise click.UsageError("Name the properties, or say --all.")
    _, firm = firm_settings(config, folder)
    if every and not (folder.is_dir() and any_records(folder)):
        raise NoRecords((str(folder),))
    files = record_files(folder) if every else [record_file(each, folder) for each in records]
    secret = tenants_secret(firm, firm.engineers_dir, firm.tenants_dir, folder)
    made = list(labels(folder, files, firm, secret, wordings_told(folder, firm)))
    try:
        output.write_text(label_sheet_html(made), encoding="utf-8")
    except OSError as error:
        raise CannotWriteFile(str(output), why_not_written(error)) from error
    click.echo(
        f"{output}: {len(made)} label{'' if len(made) == 1 else 's'}. Open it with a browser and print it."
    )
    tell_not_set(firm)


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
