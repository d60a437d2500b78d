"""Makes the pages of the tenants' site from a folder of records: every property has its page, always.

Hands over finished pages; nothing else of a record comes here.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from generator.overrides.model import Overrides
from generator.pages.tenant_pages import nowhere_html, tenant_page_html
from generator.pipeline import Examination, examine, today
from generator.site.config import NOT_SET, FirmConfig
from generator.site.tenancies import read_tenancies
from generator.site.tenant_address import tenant_address
from generator.views.tenant import language_of, nowhere_page, tenant_page
from generator.views.tenant_label import Label, label
from generator.views.tenant_model import Firm
from generator.views.tenant_wording import Wording


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets:
    """What the tenants' pages of a firm depend on besides their records; ``key`` is a digest of all of it."""

    firm: FirmConfig
    wordings: Mapping[str, Wording]
    key: str = ""

    def html(self, examination: Examination, proved: Overrides, *, revision: str) -> str:
        """The page of an examined record as its tenant sees it, a whole document.

        Args:
            examination: Of the record.
            proved: What the tenant may do.
            revision: Of the record.
        """
        wording = language_of(examination, self.firm.tenants.language, self.wordings)
        page = tenant_page(
            examination, proved, wording=wording, firm=firm_of(self.firm), revision=revision
        )
        return tenant_page_html(page)


def labels(
    properties: Path, files: Iterable[Path], firm: FirmConfig, secret: bytes, wordings: Mapping[str, Wording]
) -> Iterator[Label]:
    """The label of each of the records.

    Raises:
        BadTenancies: the file of renewed addresses cannot be used.
    """
    day = today()
    tenancies = read_tenancies(properties)
    for file in files:
        examination = examine(file, today=day)
        folder = tenant_address(file.stem, secret, tenancy=tenancies.get(file.stem, 0))
        yield label(
            examination,
            stem=file.stem,
            wording=language_of(examination, firm.tenants.language, wordings),
            firm=firm_of(firm),
            tenants=below(firm.published.tenants, f"{folder}/"),
            engineers=below(firm.published.engineers, f"p/{quote(file.stem, safe='')}/"),
        )


def below(base: str | None, place: str) -> str:
    """An address below the published one of a site; empty where none is set."""
    return f"{base.rstrip('/')}/{place}" if base else ""


def nowhere(firm: FirmConfig, wordings: Mapping[str, Wording]) -> str:
    """The page that a wrong or old address leads to."""
    wording = language_of(None, firm.tenants.language, wordings)
    return nowhere_html(nowhere_page(wording=wording, firm=firm_of(firm)))


def firm_of(firm: FirmConfig) -> Firm:
    """The firm as its tenants know it."""
    phone = firm.firm.phone
    return Firm(
        name=firm.firm.name,
        phone="" if phone == NOT_SET else phone,
        right_to_repair=firm.tenants.right_to_repair,
    )
