"""The studio's own authority, and the certificate that it gives this machine.

The authority may vouch for names of a studio's network only (`names.py`), so that whoever stole
its key could not pose as a bank towards a phone that trusts it. Its key is used when a
certificate is made, and never leaves the state folder.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Sequence
from datetime import datetime, timedelta

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from api.https.names import ENDINGS, NETWORKS, Names

AUTHORITY_DAYS = 3650
# Phones refuse a certificate that lasts longer than 825 days; 397 is what the open web allows.
CERTIFICATE_DAYS = 397
EARLIER = timedelta(hours=1)  # a phone's clock may be behind

Key = ec.EllipticCurvePrivateKey
# What a key may be used for, in the order in which the library asks.
USES = ("digital_signature", "content_commitment", "key_encipherment", "data_encipherment",
        "key_agreement", "key_cert_sign", "crl_sign", "encipher_only", "decipher_only")  # fmt: skip


def new_key() -> Key:
    """A key on the curve that every phone knows."""
    return ec.generate_private_key(ec.SECP256R1())


def make_authority(key: Key, *, host: str, at: datetime) -> x509.Certificate:
    """An authority that vouches for names of this studio's network and signs nothing else."""
    name = _name(f"Dye Larder on {host}"[:64])
    permitted = [
        *(x509.DNSName(ending) for ending in (*ENDINGS, host)),
        *(x509.IPAddress(network) for network in NETWORKS),
    ]
    return (
        _begun(name, name, key, at=at, days=AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_uses("key_cert_sign"), critical=True)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, hashes.SHA256())
    )


def make_certificate(
    key: Key, names: Names, *, authority: x509.Certificate, signer: Key, at: datetime
) -> x509.Certificate:
    """A certificate of this machine under all its names; it never outlives its authority."""
    days = min(CERTIFICATE_DAYS, max((authority.not_valid_after_utc - at).days, 1))
    called: Sequence[x509.GeneralName] = [
        *(x509.IPAddress(ipaddress.ip_address(address)) for address in names.addresses),
        *(x509.DNSName(name) for name in names.names),
    ]
    signed_by = x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key())
    return (
        _begun(_name("Dye Larder"), authority.subject, key, at=at, days=days)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_uses("digital_signature"), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(called), critical=False)
        .add_extension(signed_by, critical=False)
        .sign(signer, hashes.SHA256())
    )


def fingerprint(certificate: x509.Certificate) -> str:
    """What a person compares: `3F:A2:…`, SHA-256 of the whole certificate."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def names_in(certificate: x509.Certificate) -> frozenset[str]:
    """Every name and address that a certificate is good for."""
    found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return frozenset(str(name.value) for name in found)


def _begun(
    subject: x509.Name, issuer: x509.Name, key: Key, *, at: datetime, days: int
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(at - EARLIER)
        .not_valid_after(at + timedelta(days=days))
    )


def _uses(*allowed: str) -> x509.KeyUsage:
    return x509.KeyUsage(**{name: name in allowed for name in USES})


def _name(words: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words)])
