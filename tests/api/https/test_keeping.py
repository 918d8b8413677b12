"""Authority and certificate are made once, renewed in time, and their keys are for us only."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.serialization import load_pem_private_key
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from api.https.authority import make_certificate, new_key
from api.https.keeping import Kept, keep_certificate
from api.https.names import Names

NOON = datetime(2026, 11, 27, 12, tzinfo=UTC)
SHED = Names(("192.168.1.20", "127.0.0.1"), ("shed.local", "localhost"))
LASTS = timedelta(days=397)
RENEWED_BEFORE = timedelta(days=30)


def kept(state: Path, *, at: datetime = NOON, names: Names = SHED) -> tuple[Kept, x509.Certificate]:
    found = keep_certificate(state, names, at=at)
    return found, x509.load_pem_x509_certificate(found.pem.read_bytes())


def believed(certificate: x509.Certificate, kept: Kept, name: str, *, at: datetime = NOON) -> bool:
    """Whether a phone that trusts the authority believes the certificate of a name."""
    store = Store([x509.load_pem_x509_certificate(kept.authority.read_bytes())])
    verifier = PolicyBuilder().store(store).time(at).build_server_verifier(x509.DNSName(name))
    try:
        verifier.verify(certificate, [])
    except VerificationError:
        return False
    return True


def test_a_phone_that_trusts_the_authority_believes_the_machine(tmp_path: Path) -> None:
    found, certificate = kept(tmp_path)

    assert believed(certificate, found, "shed.local")
    assert not believed(certificate, found, "barn.local")


def test_a_stolen_authority_cannot_pose_as_somebody_in_the_world(tmp_path: Path) -> None:
    found, _ = kept(tmp_path)
    signer = load_pem_private_key((tmp_path / "https" / "authority.key").read_bytes(), None)
    authority = x509.load_pem_x509_certificate(found.authority.read_bytes())
    names = Names((), ("bank.example",))

    forged = make_certificate(new_key(), names, authority=authority, signer=signer, at=NOON)  # type: ignore[arg-type]

    assert not believed(forged, found, "bank.example")


def test_the_keys_are_for_us_only_and_the_authority_for_all(tmp_path: Path) -> None:
    kept(tmp_path)

    modes = {file.name: file.stat().st_mode & 0o777 for file in (tmp_path / "https").iterdir()}
    assert modes["authority.key"] == modes["larder.pem"] == 0o600
    assert modes["authority.crt"] == 0o644
    assert (tmp_path / "https").stat().st_mode & 0o777 == 0o700
    assert not [name for name in modes if name.endswith(".new")]


def test_what_is_good_is_kept(tmp_path: Path) -> None:
    first, one = kept(tmp_path)
    second, same = kept(tmp_path, at=NOON + timedelta(days=1))

    assert first.is_new_authority
    assert not second.is_new_authority
    assert one == same
    assert first.fingerprint == second.fingerprint


def test_a_certificate_is_renewed_thirty_days_before_its_end(tmp_path: Path) -> None:
    _, first = kept(tmp_path)
    border = NOON + LASTS - RENEWED_BEFORE

    _, before = kept(tmp_path, at=border - timedelta(seconds=1))
    found, renewed = kept(tmp_path, at=border)

    assert before == first
    assert renewed != first
    assert not found.is_new_authority
    assert renewed.not_valid_after_utc == border + LASTS


def test_a_machine_with_another_address_gets_another_certificate(tmp_path: Path) -> None:
    _, first = kept(tmp_path)
    moved = Names(("192.168.7.7", "127.0.0.1"), SHED.names)

    found, second = kept(tmp_path, names=moved)

    assert second != first
    assert not found.is_new_authority


def test_no_certificate_outlives_its_authority_and_an_old_one_is_made_anew(tmp_path: Path) -> None:
    first, _ = kept(tmp_path)
    late = NOON + timedelta(days=3650 - 100)

    _, short = kept(tmp_path, at=late)
    after, _ = kept(tmp_path, at=NOON + timedelta(days=3650 - 30))

    assert short.not_valid_after_utc == NOON + timedelta(days=3650)
    assert after.is_new_authority
    assert after.fingerprint != first.fingerprint


@pytest.mark.parametrize("file", ["authority.key", "authority.crt", "larder.pem"])
def test_a_file_that_was_lost_does_not_stop_the_next_start(tmp_path: Path, file: str) -> None:
    kept(tmp_path)
    (tmp_path / "https" / file).unlink()

    found, certificate = kept(tmp_path, names=Names(("127.0.0.1",), ("shed.local",)))

    assert believed(certificate, found, "shed.local")
