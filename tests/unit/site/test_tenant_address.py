"""Addresses that nobody can guess, and the secret that they come from."""

import hmac
import re
from base64 import b32decode
from hashlib import sha256
from pathlib import Path

import pytest

from generator.findings.errors import CannotReadFile
from generator.site.errors import UnsafeSecret
from generator.site.tenant_address import tenant_address, tenant_secret

_SECRET = bytes(range(32))


def test_an_address_is_a_keyed_hash() -> None:
    """HMAC-SHA-256 (RFC 2104), cut to 160 bits, in base32 (RFC 4648)."""
    address = tenant_address("HB-0001", _SECRET)
    assert re.fullmatch(r"[a-z2-7]{32}", address)
    whole = hmac.new(_SECRET, b"hearthbook tenants' page\x000\x00HB-0001", sha256).digest()
    assert b32decode(address.upper()) == whole[:20]


def test_every_property_tenancy_and_secret_has_its_own() -> None:
    addresses = {
        tenant_address(reference, secret, tenancy=tenancy)
        for reference in ("HB-0001", "HB-0002", "0\0HB-0001", "")
        for secret in (_SECRET, bytes(32))
        for tenancy in (0, 1, 10)
    }
    assert len(addresses) == 24


def test_the_secret_is_made_once_and_for_its_owner_only(tmp_path: Path) -> None:
    file = tmp_path / "deep" / "secret"
    secret, advice = tenant_secret(file)
    assert len(secret) == 32
    assert str(file) in advice
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.parent.stat().st_mode & 0o777 == 0o700
    assert tenant_secret(file) == (secret, "")
    assert [p.name for p in file.parent.iterdir()] == ["secret"]


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o622])
def test_a_secret_that_others_can_reach_is_refused(tmp_path: Path, mode: int) -> None:
    file = tmp_path / "secret"
    tenant_secret(file)
    file.chmod(mode)
    with pytest.raises(UnsafeSecret, match="chmod 600"):
        tenant_secret(file)


@pytest.mark.parametrize("text", ["", "abc", "g" * 64, "0" * 63])
def test_a_damaged_secret_is_refused_not_replaced(tmp_path: Path, text: str) -> None:
    file = tmp_path / "secret"
    file.write_text(text, encoding="ascii")
    file.chmod(0o600)
    with pytest.raises(UnsafeSecret, match="damaged"):
        tenant_secret(file)
    assert file.read_text(encoding="ascii") == text


def test_the_secret_is_kept_out_of_what_others_see(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "site")
    for place in ("site/secret", "link/secret"):
        with pytest.raises(UnsafeSecret, match="keep it elsewhere"):
            tenant_secret(tmp_path / place, keep_out_of=(tmp_path / "site",))
    assert list((tmp_path / "site").iterdir()) == []


@pytest.mark.parametrize("made", [False, True])
def test_the_secret_is_kept_out_of_any_repository(tmp_path: Path, made: bool) -> None:
    file = tmp_path / "records" / "deep" / "secret"
    if made:
        tenant_secret(file)
    (tmp_path / "records").mkdir(exist_ok=True)
    (tmp_path / "records" / ".git").mkdir()
    with pytest.raises(UnsafeSecret, match="repository"):
        tenant_secret(file)
    assert file.exists() is made


def test_a_place_that_cannot_be_used_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(CannotReadFile):
        tenant_secret(tmp_path / "file" / "secret")
