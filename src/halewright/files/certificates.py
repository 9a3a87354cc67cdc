"""A small certificate authority for one machine, kept in one folder.

`authority.key` (only its owner may read it), `authority.crt`, `server.key`, `server.crt`. The
authority can vouch for servers only, and only for names and addresses of a local network: who
trusts it need not fear that it speaks for a bank.
"""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

AUTHORITY_DAYS = 730
"""Two years: longer would outlive the laptop's trust, shorter would annoy (common practice)."""
SERVER_DAYS = 90
RENEW_BEFORE_DAYS = 30
"""A server's certificate is made anew when fewer days than this are left (common practice)."""
LOCAL_NAMES = ("localhost", "local", "lan", "home.arpa")
LOCAL_NETWORKS = (
    "127.0.0.0/8",
    "10.0.0.0/8",
    "172.16.0.0/12",
    "192.168.0.0/16",
    "169.254.0.0/16",
    "100.64.0.0/10",
    "192.0.2.0/24",
    "::1/128",
    "fc00::/7",
    "fe80::/10",
)
"""Addresses that the world's network never carries: loopback, private, link-local, those that a
provider shares out, and those for tests (RFC 1122, 1918, 3927, 6598, 5737, 4193, 4291; from
memory)."""
_CLOCKS_APART = timedelta(days=1)
"""A device whose clock is a little behind must still accept it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Authority:
    """The authority as others see it: its certificate, and the fingerprint to compare by eye."""

    certificate: bytes
    fingerprint: str
    until: datetime


def authority(folder: Path) -> Authority | None:
    """Return the authority kept in `folder`, or None if none has been made."""
    try:
        text = (folder / "authority.crt").read_bytes()
    except FileNotFoundError:
        return None
    certificate = x509.load_pem_x509_certificate(text)
    digest = certificate.fingerprint(hashes.SHA256()).hex().upper()
    return Authority(
        certificate=text,
        fingerprint=":".join(digest[at : at + 2] for at in range(0, len(digest), 2)),
        until=certificate.not_valid_after_utc,
    )


def ensure(*, folder: Path, names: Sequence[str], now: datetime) -> Authority:
    """Make what is missing or about to end, and return the authority.

    `names` are the addresses and host names that the server answers to. A new authority has to
    be trusted anew by every device, so it is only made when the old one is missing or has ended.
    """
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    kept = authority(folder)
    if kept is None or kept.until <= now or not (folder / "authority.key").exists():
        _make_authority(folder=folder, now=now)
    if not _server_holds(folder=folder, names=names, now=now):
        _make_server(folder=folder, names=names, now=now)
    made = authority(folder)
    assert made is not None  # noqa: S101  made three lines above
    return made


def _make_authority(*, folder: Path, now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Halewright on this computer")])
    public = key.public_key()
    certificate = (
        _builder(subject=name, issuer=name, public=public, now=now, days=AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(public), critical=False)
        .add_extension(_only_local(), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(folder / "authority.key", key)
    (folder / "authority.crt").write_bytes(_pem(certificate))
    (folder / "server.crt").unlink(missing_ok=True)


def _make_server(*, folder: Path, names: Sequence[str], now: datetime) -> None:
    signer = serialization.load_pem_private_key((folder / "authority.key").read_bytes(), None)
    assert isinstance(signer, ec.EllipticCurvePrivateKey)  # noqa: S101  we made it
    issuer = x509.load_pem_x509_certificate((folder / "authority.crt").read_bytes())
    days = min(SERVER_DAYS, max(1, (issuer.not_valid_after_utc - now).days))
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Halewright hall screen")])
    certificate = (
        _builder(
            subject=subject, issuer=issuer.subject, public=key.public_key(), now=now, days=days
        )
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([_general(n) for n in names]), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key()),
            critical=False,
        )
        .sign(signer, hashes.SHA256())
    )
    _write_key(folder / "server.key", key)
    (folder / "server.crt").write_bytes(_pem(certificate))


def _builder(
    *,
    subject: x509.Name,
    issuer: x509.Name,
    public: ec.EllipticCurvePublicKey,
    now: datetime,
    days: int,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(public)
        .serial_number(x509.random_serial_number())
        .not_valid_before(now.astimezone(UTC) - _CLOCKS_APART)
        .not_valid_after(now.astimezone(UTC) + timedelta(days=days))
    )


def _server_holds(*, folder: Path, names: Sequence[str], now: datetime) -> bool:
    try:
        text = (folder / "server.crt").read_bytes()
    except FileNotFoundError:
        return False
    if not (folder / "server.key").exists():
        return False
    certificate = x509.load_pem_x509_certificate(text)
    found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    missing = {_general(name) for name in names} - set(found)
    left = certificate.not_valid_after_utc - now
    return not missing and left > timedelta(days=RENEW_BEFORE_DAYS)


def _general(name: str) -> x509.GeneralName:
    try:
        address: IPv4Address | IPv6Address = ip_address(name)
    except ValueError:
        return x509.DNSName(name)
    return x509.IPAddress(address)


def is_local(name: str) -> bool:
    """Return whether the authority may vouch for a name or address."""
    try:
        address = ip_address(name)
    except ValueError:
        return any(name == local or name.endswith("." + local) for local in LOCAL_NAMES)
    return any(address in ip_network(network) for network in LOCAL_NETWORKS)


def _only_local() -> x509.NameConstraints:
    return x509.NameConstraints(
        permitted_subtrees=[
            *(x509.DNSName(name) for name in LOCAL_NAMES),
            *(x509.IPAddress(ip_network(network)) for network in LOCAL_NETWORKS),
        ],
        excluded_subtrees=None,
    )


def _usage(*, signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs,
        key_cert_sign=signs,
        crl_sign=signs,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def _pem(certificate: x509.Certificate) -> bytes:
    return certificate.public_bytes(serialization.Encoding.PEM)


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    """Write a key so that at no moment anyone but its owner can read it."""
    path.unlink(missing_ok=True)
    text = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(text)
