"""Where a property's tenants' page is: an address that nobody can guess, and the secret that it is made from.

It must not know what the page says.
"""

import base64
import hmac
import os
import re
import secrets
from pathlib import Path

from generator.findings.errors import CannotReadFile, CannotWriteFile, why_not_written
from generator.site.errors import UnsafeSecret

_BYTES = 20
"""160 bits: base32 writes them in 32 characters without padding."""

_PURPOSE = b"hearthbook tenants' page\0"
_SECRET = re.compile(r"[0-9a-f]{64}")

ADVICE = """\
A new secret was made in {file}. The addresses of all tenants' pages come from it.
  Keep a copy in the firm's safe place: without it every printed label and QR code leads nowhere.
  Show it to nobody: whoever has it can work out every address.
  Keep it out of the records, the sites and any repository."""


def tenant_address(reference: str, secret: bytes, *, tenancy: int = 0) -> str:
    """Return the folder of a property's page in the tenants' site.

    Args:
        reference: The firm's reference.
        secret: From `tenant_secret`.
        tenancy: Raised by one when a tenancy ends; the old address then leads to whom to call.

    Returns:
        32 lower-case letters and digits. Without the secret it says nothing about the reference (HMAC-SHA-256,
        RFC 2104, cut to 160 bits).
    """
    message = _PURPOSE + f"{tenancy}\0{reference}".encode()
    digest = hmac.digest(secret, message, "sha256")
    return base64.b32encode(digest[:_BYTES]).decode("ascii").lower()


def tenant_secret(file: Path, *, keep_out_of: tuple[Path, ...] = ()) -> tuple[bytes, str]:
    """Return the secret, made on first use.

    Args:
        file: Where it is kept.
        keep_out_of: Folders that are published or shared, in which it must not lie.

    Returns:
        The secret, and what to tell the user: empty unless it was made just now.

    Raises:
        UnsafeSecret: it lies where it must not (those folders, or any repository), others may read it, or it is not a secret of ours.
        CannotReadFile: the machine refuses.
        CannotWriteFile: the machine refuses.
    """
    place = file.expanduser().resolve()
    for folder in keep_out_of:
        if place.is_relative_to(folder.resolve()):
            raise UnsafeSecret(place, f"lies in {folder}, which others get to see; keep it elsewhere")
    for folder in place.parents:
        if (folder / ".git").exists():
            raise UnsafeSecret(
                place, f"lies in the repository {folder}, which is copied and shared; keep it elsewhere"
            )
    try:
        return _read(place), ""
    except FileNotFoundError:
        pass
    except OSError as error:
        raise CannotReadFile(str(place), error.strerror or str(error)) from error
    try:
        return _make(place)
    except OSError as error:
        raise CannotWriteFile(str(place), why_not_written(error)) from error


def _read(file: Path) -> bytes:
    if file.stat().st_mode & 0o077:
        raise UnsafeSecret(file, "can be read by other users of this machine; run `chmod 600` on it")
    text = file.read_text(encoding="ascii", errors="replace").strip()
    if not _SECRET.fullmatch(text):
        raise UnsafeSecret(file, "is damaged; put the firm's copy back")
    return bytes.fromhex(text)


def _make(file: Path) -> tuple[bytes, str]:
    secret = secrets.token_bytes(32)
    file.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = file.with_name(f".{file.name}.{os.getpid()}")
    with os.fdopen(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "w", encoding="ascii") as out:
        out.write(f"{secret.hex()}\n")
    try:
        # A link, not a rename: if another build was quicker, its secret stays and is used here too.
        file.hardlink_to(part)
    except FileExistsError:
        return _read(file), ""
    finally:
        part.unlink()
    return secret, ADVICE.format(file=file)
