"""Makes the sheets of the tenants' site from a folder of records: every property has its sheet, always.

Hands over plain sentences only; nothing else of a record comes here.
"""

from collections.abc import Iterator
from pathlib import Path

from generator.pipeline import examine, today
from generator.site.config import FirmConfig
from generator.site.publish import record_files
from generator.site.tenant_address import tenant_address
from generator.site.tenants import TenantContact, TenantSheet
from generator.views.property import property_view
from generator.views.tenant import GAS_GREAT_BRITAIN, tenant_words


def tenants_sheets(properties: Path, firm: FirmConfig, secret: bytes) -> Iterator[TenantSheet]:
    """One sheet for every record in the folder, at the address that the secret gives it."""
    day = today()
    for file in record_files(properties):
        words = tenant_words(property_view(examine(file, today=day), stem=file.stem))
        yield TenantSheet(
            address=tenant_address(file.stem, secret),
            home=words.home,
            stop_when=words.stop_when,
            never=words.never,
            still_works=words.still_works,
            contact=_contact(firm, words.emergency_name, words.emergency_phone),
            revision=words.revision,
        )


def nowhere_contact(firm: FirmConfig) -> TenantContact:
    """Whom the page of a wrong address says to ring."""
    return _contact(firm, *GAS_GREAT_BRITAIN)


def _contact(firm: FirmConfig, name: str, phone: str) -> TenantContact:
    return TenantContact(firm_name=firm.firm.name, firm_phone=firm.firm.phone, gas_name=name, gas_phone=phone)
