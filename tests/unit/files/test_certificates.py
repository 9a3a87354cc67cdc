"""The local certificate authority: who may read its key, for whom it vouches, how long."""

import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509

from halewright.files import certificates

NOW = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)
NAMES = ("localhost", "127.0.0.1", "hall-laptop.local", "192.168.1.20")


def _server(folder: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate((folder / "server.crt").read_bytes())


def test_keys_are_readable_by_their_owner_only(tmp_path: Path) -> None:
    """Whoever had the authority's key could pretend to be this computer."""
    certificates.ensure(folder=tmp_path / "tls", names=NAMES, now=NOW)

    for name in ("authority.key", "server.key"):
        assert stat.S_IMODE((tmp_path / "tls" / name).stat().st_mode) == 0o600


def test_the_servers_certificate_names_what_it_answers_to(tmp_path: Path) -> None:
    """A browser compares the address with these names."""
    certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)

    found = _server(tmp_path).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert found.get_values_for_type(x509.DNSName) == ["localhost", "hall-laptop.local"]
    assert [str(address) for address in found.get_values_for_type(x509.IPAddress)] == [
        "127.0.0.1",
        "192.168.1.20",
    ]


def test_the_server_is_signed_by_the_authority(tmp_path: Path) -> None:
    """Trusting the one means trusting the other, and a TLS library can use the pair."""
    made = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)

    authority = x509.load_pem_x509_certificate(made.certificate)
    _server(tmp_path).verify_directly_issued_by(authority)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(tmp_path / "server.crt", tmp_path / "server.key")


def test_the_authority_vouches_for_local_networks_only(tmp_path: Path) -> None:
    """Its name constraints are critical, so it can never speak for a site of the world."""
    made = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)

    held = x509.load_pem_x509_certificate(made.certificate).extensions
    limits = held.get_extension_for_class(x509.NameConstraints)
    basic = held.get_extension_for_class(x509.BasicConstraints)
    assert limits.critical
    assert limits.value.permitted_subtrees
    assert (basic.value.ca, basic.value.path_length) == (True, 0)


@pytest.mark.parametrize(
    ("name", "local"),
    [
        ("localhost", True),
        ("hall-laptop.local", True),
        ("192.168.1.20", True),
        ("10.0.0.9", True),
        ("fe80::1", True),
        ("8.8.8.8", False),
        ("example.org", False),
        ("notlocal", False),
    ],
)
def test_local_names_are_told_from_others(name: str, local: bool) -> None:
    """Private, link-local and loopback addresses, and the names that home networks use."""
    assert certificates.is_local(name) is local


def test_nothing_is_made_anew_without_need(tmp_path: Path) -> None:
    """A device that trusts the computer need not be told again next week."""
    first = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)
    server = _server(tmp_path)

    again = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW + timedelta(days=7))

    assert again == first
    assert _server(tmp_path) == server


def test_the_server_is_renewed_before_it_ends_and_the_authority_stays(tmp_path: Path) -> None:
    """90 days, renewed when 30 or fewer are left: on day 61, not on day 59."""
    first = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)
    server = _server(tmp_path)

    certificates.ensure(folder=tmp_path, names=NAMES, now=NOW + timedelta(days=59))
    kept = _server(tmp_path)
    again = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW + timedelta(days=61))

    assert kept == server
    assert _server(tmp_path) != server
    assert again == first


def test_another_hall_has_another_address(tmp_path: Path) -> None:
    """A new address makes a new server certificate under the same authority."""
    first = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)

    again = certificates.ensure(folder=tmp_path, names=(*NAMES, "10.0.0.9"), now=NOW)

    found = _server(tmp_path).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert "10.0.0.9" in [str(each) for each in found.get_values_for_type(x509.IPAddress)]
    assert again == first


def test_an_ended_authority_is_made_anew(tmp_path: Path) -> None:
    """After two years both are new."""
    first = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW)

    again = certificates.ensure(folder=tmp_path, names=NAMES, now=NOW + timedelta(days=731))

    assert again.fingerprint != first.fingerprint
    _server(tmp_path).verify_directly_issued_by(x509.load_pem_x509_certificate(again.certificate))


def test_without_a_hall_there_is_no_authority(tmp_path: Path) -> None:
    """Nothing is made by asking."""
    assert certificates.authority(tmp_path) is None
