"""Where authority and certificate are kept: made once, renewed before their end, keys for us only.

STATE/https/authority.key    the authority's key, 0600
STATE/https/authority.crt    what a phone is given to trust
STATE/https/larder.pem       key and certificate of this machine, 0600, replaced as one file
"""

from __future__ import annotations

import fcntl
import os
import socket
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)

from api.https.authority import (
    Key,
    fingerprint,
    make_authority,
    make_certificate,
    names_in,
    new_key,
)
from api.https.names import Names
from api.https.place import authority_file, folder_of

RENEWED_BEFORE = timedelta(days=30)
FOR_US_ONLY = 0o600
FOR_ALL_TO_READ = 0o644


@dataclass(frozen=True, slots=True)
class Kept:
    """What is served with, and what a phone is to trust."""

    pem: Path
    authority: Path
    fingerprint: str
    until: datetime
    is_new_authority: bool  # every phone has to be told again


def keep_certificate(state: Path, names: Names, *, at: datetime) -> Kept:
    """The certificate of this machine, made anew where it is missing, ends or lacks a name."""
    folder = folder_of(state)
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)
    with _alone(folder):
        has_key = (folder / "authority.key").exists()
        is_new = not (has_key and _goes_on(authority_file(state), at=at))
        if is_new:
            _make_authority(folder, at=at)
        authority = _certificate(authority_file(state))
        pem = folder / "larder.pem"
        if is_new or not _goes_on(pem, at=at) or names_in(_certificate(pem)) != {*names.all}:
            _make_certificate(folder, names, at=at)
        until = _certificate(pem).not_valid_after_utc
    return Kept(pem, authority_file(state), fingerprint(authority), until, is_new)


def _goes_on(file: Path, *, at: datetime) -> bool:
    """Whether a certificate is there, has begun, and does not end soon."""
    if not file.exists():
        return False
    kept = _certificate(file)
    return kept.not_valid_before_utc <= at < kept.not_valid_after_utc - RENEWED_BEFORE


def _make_authority(folder: Path, *, at: datetime) -> None:
    key = new_key()
    host = socket.gethostname().split(".")[0].lower()
    made = make_authority(key, host=host if host.isascii() else "localhost", at=at)
    # The key first: an authority without its key could sign nothing more.
    _write(folder / "authority.key", _key_bytes(key), mode=FOR_US_ONLY)
    _write(folder / "authority.crt", made.public_bytes(Encoding.PEM), mode=FOR_ALL_TO_READ)


def _make_certificate(folder: Path, names: Names, *, at: datetime) -> None:
    key = new_key()
    made = make_certificate(
        key,
        names,
        authority=_certificate(folder / "authority.crt"),
        signer=_key(folder / "authority.key"),
        at=at,
    )
    both = _key_bytes(key) + made.public_bytes(Encoding.PEM)
    _write(folder / "larder.pem", both, mode=FOR_US_ONLY)


def _certificate(file: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(file.read_bytes())


def _key(file: Path) -> Key:
    key = load_pem_private_key(file.read_bytes(), password=None)
    assert isinstance(key, Key), file
    return key


def _key_bytes(key: Key) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def _write(file: Path, content: bytes, *, mode: int) -> None:
    """As a whole or not at all, and never for a moment readable by others."""
    aside = file.with_suffix(".new")
    aside.unlink(missing_ok=True)
    with os.fdopen(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as written:
        written.write(content)
        written.flush()
        os.fsync(written.fileno())
    aside.replace(file)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """One maker at a time, or key and certificate of two would be mixed."""
    with (folder / "lock").open("a", encoding="utf-8") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield
