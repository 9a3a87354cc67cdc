"""Serving the pages: to this machine only, or to a hall over its local network.

For a hall there are two listeners. The one with TLS serves everything. The plain one serves the
hall screen, which has nothing about anybody, and the page that says how to trust this computer;
it refuses everything else in plain words, even when this machine asks.
"""

import os
import socket
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from importlib import import_module
from ipaddress import ip_address
from pathlib import Path
from threading import Thread
from typing import Any

from cheroot import wsgi
from cheroot.ssl.builtin import BuiltinSSLAdapter
from django.conf import settings

from halewright.core.errors import HalewrightError
from halewright.files import certificates

Wsgi = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]
Say = Callable[[str], None]

LOOPBACK = "127.0.0.1"
THREADS_COUNT = 30
"""Browsers open connections ahead and leave them silent; each holds a thread for a while."""
_SILENT_S = 5
"""How long a silent connection is kept (common practice)."""
_OPEN = ("/hall/", "/static/")
_SOMEWHERE = ("10.255.255.255", "172.31.255.255", "192.168.255.255")


class PortTaken(HalewrightError):
    """Something else already listens where we were told to."""

    def __init__(self, *, port: int) -> None:
        """Name the port and the way out."""
        self.port = port
        super().__init__(
            f"Something else on this computer already uses port {port}. Close the other "
            "Halewright, or give another port."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class HallAccess:
    """How devices in the hall reach this computer."""

    names: tuple[str, ...]
    port: int
    plain_port: int
    authority: certificates.Authority

    def words(self) -> str:
        """Return what the leader has to know, in plain sentences."""
        first = next((name for name in self.names if _is_away(name)), LOOPBACK)
        secure = "\n".join(
            f"  https://{_in_url(name)}:{self.port}/hall/" for name in self.names if _is_away(name)
        )
        plain = f"http://{_in_url(first)}:{self.plain_port}/hall"
        return (
            "Halewright serves the hall.\n\n"
            f"On this computer, open https://localhost:{self.port}/\n"
            f"On the hall screen, open\n{secure or '  (no local network was found)'}\n\n"
            "The first time, each device must learn to trust this computer. On the device, open\n"
            f"  {plain}/trust/\n"
            "and follow the steps there. Compare the fingerprint:\n"
            f"  {self.authority.fingerprint}\n\n"
            "A screen that cannot be told to trust anything may use\n"
            f"  {plain}/\n"
            "It plays the session, but it cannot reload without this computer. All other pages "
            "are refused there.\n\nTo stop serving, press Ctrl and C."
        )


def authority(home: Path) -> certificates.Authority | None:
    """Return the local authority of this installation, or None if it never served a hall."""
    return certificates.authority(home / "tls")


def serve_here(*, home: Path, say: Say, port: int = 8000) -> None:
    """Serve this machine alone, until interrupted. Raises `PortTaken`."""
    server = _listener(port=port, host=LOOPBACK, application=_application(home))
    _prepare(server, port=port)
    say(f"Open http://localhost:{port}/ in a browser on this computer. Ctrl and C stops.")
    _run(server)


def serve_hall(
    *, home: Path, say: Say, now: datetime, port: int = 8443, plain_port: int = 8080
) -> None:
    """Serve the local network over TLS, and the hall screen alone without, until interrupted.

    Makes the local authority and the server's certificate where they are missing or about to
    end. Raises `PortTaken`.
    """
    names = local_names()
    access = HallAccess(
        names=names,
        port=port,
        plain_port=plain_port,
        authority=certificates.ensure(folder=home / "tls", names=names, now=now),
    )
    application = _application(home)
    settings.ALLOWED_HOSTS = [*settings.ALLOWED_HOSTS, *map(_in_url, names)]
    settings.SESSION_COOKIE_SECURE = True
    settings.CSRF_COOKIE_SECURE = True
    secure = _listener(port=port, host="0.0.0.0", application=application)  # noqa: S104  the hall
    secure.ssl_adapter = BuiltinSSLAdapter(
        str(home / "tls" / "server.crt"), str(home / "tls" / "server.key")
    )
    plain = _listener(
        port=plain_port,
        host="0.0.0.0",  # noqa: S104  the hall
        application=only_hall(application, secure_port=port),
    )
    _prepare(secure, port=port)
    _prepare(plain, port=plain_port)
    say(access.words())
    Thread(target=plain.serve, daemon=True).start()
    try:
        _run(secure)
    finally:
        plain.stop()


def local_names() -> tuple[str, ...]:
    """Return the names and addresses of this machine that a local network may use."""
    found = {"localhost": None, LOOPBACK: None, f"{_host_name()}.local": None}
    for address in _addresses():
        found.setdefault(address)
    return tuple(name for name in found if certificates.is_local(name))


def only_hall(application: Wsgi, *, secure_port: int) -> Wsgi:
    """Wrap the application so that nothing but the hall screen is answered."""

    def answer(environ: dict[str, Any], start: Callable[..., Any]) -> Iterable[bytes]:
        if str(environ.get("PATH_INFO", "")).startswith(_OPEN):
            return application(environ, start)
        host = str(environ.get("HTTP_HOST", "")).rsplit(":", 1)[0]
        body = _refusal(host=host, secure_port=secure_port)
        heads = [
            ("Content-Type", "text/html; charset=utf-8"),
            ("Content-Length", str(len(body))),
            ("Content-Security-Policy", "default-src 'none'"),
            ("Cache-Control", "no-store"),
        ]
        start("403 Forbidden", heads)
        return [body]

    return answer


def _refusal(*, host: str, secure_port: int) -> bytes:
    # The host is what the asker sent: only a plain name or address is repeated to him.
    safe = all(letter.isalnum() or letter in ".-[]:" for letter in host)
    where = f"https://{host}:{secure_port}/" if host and safe else "the https address"
    return (
        '<!doctype html><html lang="en-GB"><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        "<title>Not over plain HTTP</title><h1>This page is not shown over plain HTTP</h1>"
        "<p>Pages about people are only shown over a connection that others in the hall cannot "
        f"read. Open {where} instead.</p>"
        '<p><a href="/hall/trust/">How to trust this computer</a></p>'
        '<p><a href="/hall/">The hall screen</a> works here: it has nothing about anybody.</p>'
    ).encode()


def _application(home: Path) -> Wsgi:
    """Load the pages. `home` counts unless Django has read its settings already."""
    os.environ["HALEWRIGHT_HOME"] = str(home)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "halewright.web.settings")
    # By name, since use cases do not know the faces that call them.
    module, _, name = settings.WSGI_APPLICATION.rpartition(".")
    application: Wsgi = getattr(import_module(module), name)
    return application


def _listener(*, port: int, host: str, application: Wsgi) -> wsgi.Server:
    server = wsgi.Server((host, port), application, numthreads=THREADS_COUNT)
    server.software = "Halewright"
    server.timeout = _SILENT_S
    server.shutdown_timeout = 2
    return server


def _prepare(server: wsgi.Server, *, port: int) -> None:
    try:
        server.prepare()
    except OSError as error:
        raise PortTaken(port=port) from error


def _run(server: wsgi.Server) -> None:
    try:
        server.serve()
    except KeyboardInterrupt:
        pass  # the way to stop it
    finally:
        server.stop()


def _host_name() -> str:
    return socket.gethostname().split(".")[0].lower()


def _addresses() -> Sequence[str]:
    found: list[str] = []
    try:
        own = socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)
        found.extend(str(entry[4][0]) for entry in own)
    except socket.gaierror:
        pass  # a machine that does not know its own name still has addresses
    for target in _SOMEWHERE:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            try:
                probe.connect((target, 9))  # chooses the way; sends nothing
            except OSError:
                continue
            found.append(str(probe.getsockname()[0]))
    return found


def _is_away(name: str) -> bool:
    """Return whether a name means this machine when another one says it."""
    if name == "localhost":
        return False
    try:
        return not ip_address(name).is_loopback
    except ValueError:
        return True


def _in_url(name: str) -> str:
    return f"[{name}]" if ":" in name else name
