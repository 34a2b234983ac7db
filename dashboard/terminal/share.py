"""Serves the phone's room to the home network, and says how to enter it."""

from __future__ import annotations

import json
import socket
import ssl
import subprocess
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from dashboard.terminal.ports import ADDRESS, free_port
from dashboard.terminal.process import process
from pricing.errors import InputRefused

EVERYWHERE = "0.0.0.0"
START_SECONDS = 60.0
OPEN_WORDS = (
    "Not encrypted: everyone on this network can see what goes between the phone and this "
    "computer, the code too. Share on a network that you trust, or give --certificate FILE and "
    "--key FILE."
)


@dataclass(frozen=True, kw_only=True)
class Certificate:
    """What the phone's connection is encrypted with, as PEM files."""

    certificate: Path
    key: Path


def certificate_of(certificate: Path | None, key: Path | None) -> Certificate | None:
    """Return the certificate, checked; None if neither file is named. Raises InputRefused."""
    if certificate is None and key is None:
        return None
    if certificate is None or key is None:
        given, lacking = ("--key", "--certificate") if key else ("--certificate", "--key")
        raise InputRefused(f"Found {given} alone; expected its pair. Give {lacking} FILE too.")
    try:
        tried = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        tried.load_cert_chain(certificate, key, password=lambda: "")
    except (OSError, ValueError) as error:  # ssl.SSLError is an OSError
        raise InputRefused(
            f"Found {certificate} and {key}, which cannot be used ({error}); expected a "
            "certificate and its key without a password, as PEM files. Name the right pair."
        ) from None
    return Certificate(certificate=certificate, key=key)


@contextmanager
def shared(book: Path, port: int, certificate: Certificate | None) -> Iterator[None]:
    """Serve the phone's room from `port`, or the next free one, until the block ends.

    Prints its address and each code: a code lets one phone in, then the next one is printed.
    """
    free = free_port(port, EVERYWHERE)
    told = {
        "book": str(book.resolve()),
        "address": EVERYWHERE,
        "port": free,
        "certificate": str(certificate.certificate.resolve()) if certificate else None,
        "key": str(certificate.key.resolve()) if certificate else None,
    }
    scheme = "https" if certificate else "http"
    with process("dashboard.phone.served", [json.dumps(told)], book, says=True) as server:
        first = _code(server)
        if first is None or not _answers(server, free):
            raise InputRefused("The phone's server ended by itself. What it said stands above.")
        print(f"Phone: {scheme}://{own_address()}:{free}  code {first}", flush=True)
        print("A code lets one phone in; the next one is shown here then.", flush=True)
        if not certificate:
            print(OPEN_WORDS, flush=True)
        threading.Thread(target=_tell, args=(server,), daemon=True).start()
        yield


def _answers(server: subprocess.Popen[bytes], port: int) -> bool:
    """Wait until the room listens; False if its process ended, or took too long."""
    deadline = time.monotonic() + START_SECONDS
    while server.poll() is None and time.monotonic() < deadline:
        try:
            with socket.create_connection((ADDRESS, port), timeout=2):
                return True
        except OSError:
            time.sleep(0.05)
    return False


def own_address() -> str:
    """Return this computer's address on the network it would use; no packet is sent for it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(("192.0.2.1", 9))  # an address that belongs to nobody (RFC 5737)
            return str(asked.getsockname()[0])
        except OSError:
            return socket.gethostname()


def _code(server: subprocess.Popen[bytes]) -> str | None:
    assert server.stdout is not None
    return server.stdout.readline().decode().strip() or None


def _tell(server: subprocess.Popen[bytes]) -> None:
    while code := _code(server):
        print(f"A phone was let in. Code for the next one: {code}", flush=True)
