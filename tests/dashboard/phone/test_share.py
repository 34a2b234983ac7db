"""`serve --share`: the desk stays on this computer, the phone's room is on the network."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
import requests

from dashboard.terminal.ports import ADDRESS, free_port
from dashboard.terminal.share import EVERYWHERE, certificate_of, own_address
from pricing.book.connect import Book
from pricing.errors import InputRefused
from tests import terminal

# made for these tests alone, for a name that is never used (RFC 6761), until 2126:
# openssl req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 36500
CERTIFICATE = Path(__file__).parent / "kitchen_test_certificate.pem"
KEY = Path(__file__).parent / "kitchen_test_key.pem"
SAID = re.compile(r"Phone: (https?)://(\S+):(\d+)  code (\d{4} \d{4})\n")


@contextmanager
def sharing(book: Path, *options: str) -> Iterator[tuple[int, list[str], subprocess.Popen[str]]]:
    """Run `serve --share`; yield the desk's port, the first lines said, and the process."""
    port = free_port(18790)
    command = ["--book", str(book), "serve", "--port", str(port), "--share", *options]
    with subprocess.Popen(
        [sys.executable, "-m", "dashboard.cli", *command],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        try:
            assert process.stdout.readline().startswith("Dashboard:")
            yield port, [process.stdout.readline() for _ in range(2)], process
        finally:
            process.terminate()
            process.wait(timeout=60)


def reaches(address: str, port: int) -> bool:
    try:
        with socket.create_connection((address, port), timeout=5):
            return True
    except OSError:
        return False


def test_the_phones_room_is_on_the_network_and_the_desk_is_not(kitchen: Book) -> None:
    with sharing(kitchen.path) as (desk, (line, more), process):
        said = SAID.fullmatch(line)
        assert said is not None, line
        scheme, address, port, code = said.groups()
        assert scheme == "http"
        assert address == own_address()
        assert more.startswith("A code lets one phone in")
        assert process.stdout is not None
        assert "everyone on this network can see" in process.stdout.readline()
        assert reaches(ADDRESS, desk)
        if not address.startswith("127."):  # a computer on a network
            assert not reaches(address, desk)
            assert reaches(address, int(port))
        with requests.Session() as phone:
            phone.trust_env = False
            room = f"http://{ADDRESS}:{port}"
            assert phone.get(room, timeout=60).status_code == 401
            assert "leek" in phone.post(f"{room}/code", data={"code": code}, timeout=60).text
        told = process.stdout.readline()
        assert re.fullmatch(r"A phone was let in\. Code for the next one: \d{4} \d{4}\n", told)
        assert code not in told
        process.terminate()
        assert process.stderr is not None
        assert code.replace(" ", "") not in process.stderr.read().replace(" ", "")
    assert not reaches(ADDRESS, int(port))


def test_with_a_certificate_the_phones_room_is_encrypted(kitchen: Book) -> None:
    options = ["--certificate", str(CERTIFICATE), "--key", str(KEY)]
    with sharing(kitchen.path, *options) as (_, (line, _more), _process):
        said = SAID.fullmatch(line)
        assert said is not None, line
        assert said[1] == "https"
        with requests.Session() as phone:
            phone.trust_env = False
            phone.verify = str(CERTIFICATE)
            with pytest.raises(requests.exceptions.SSLError, match=r"mismatch|doesn't match"):
                phone.get(f"https://{ADDRESS}:{said[3]}", timeout=60)  # it is kitchen.test's


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--share", "--key", str(KEY)], "Give --certificate FILE too"),
        (["--share", "--certificate", str(CERTIFICATE)], "Give --key FILE too"),
        (["--share", "--certificate", str(KEY), "--key", str(KEY)], "cannot be used"),
        (["--share", "--certificate", "none.pem", "--key", "none.pem"], "cannot be used"),
        (["--certificate", str(CERTIFICATE), "--key", str(KEY)], "Add --share"),
    ],
)
def test_a_certificate_that_cannot_serve_is_a_sentence(
    kitchen: Book, options: list[str], said: str
) -> None:
    done = terminal.run("serve", *options, book=kitchen.path)
    assert done.returncode in (1, 2)
    assert said in done.stderr


def test_a_port_is_free_only_if_it_is_on_every_address() -> None:
    with socket.socket() as listener:
        listener.bind((ADDRESS, 0))
        listener.listen()
        taken = listener.getsockname()[1]
        assert free_port(taken, EVERYWHERE) != taken


def test_no_certificate_is_none() -> None:
    assert certificate_of(None, None) is None
    with pytest.raises(InputRefused, match="its pair"):
        certificate_of(None, KEY)
