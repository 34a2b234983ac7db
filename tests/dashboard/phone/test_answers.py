"""The phone's room as a program on the network meets it: what is answered, and what is not."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from typing import Any

import pytest
import requests
import uvicorn

from dashboard.phone.answers import COOKIE, application
from dashboard.phone.gate import Gate
from pricing.book.connect import Book
from pricing.prices.history import Observation, price_history
from tests.kitchen import TODAY

BUTTER = "/price?ingredient=butter"


class Phone(requests.Session):
    """A browser without a script, on the network's side of the room."""

    def __init__(self, address: str) -> None:
        super().__init__()
        self.address = address
        self.trust_env = False  # never by a proxy

    def request(self, method: Any, url: Any, *more: Any, **named: Any) -> requests.Response:
        return super().request(method, f"{self.address}{url}", *more, timeout=60, **named)


@contextmanager
def serving(book: Book, codes: list[str], *, encrypted: bool = False) -> Iterator[Phone]:
    """Serve the room from a thread, as the process of its own does."""
    made = application(book.path, Gate(tell=codes.append), encrypted=encrypted)
    config = uvicorn.Config(made, port=0, log_level="warning", ws="none", server_header=False)
    server = uvicorn.Server(config)
    running = threading.Thread(target=server.run)
    running.start()
    try:
        while not server.started:
            time.sleep(0.01)
        port = server.servers[0].sockets[0].getsockname()[1]
        yield Phone(f"http://127.0.0.1:{port}")
    finally:
        server.should_exit = True
        running.join(timeout=60)


@pytest.fixture
def codes() -> list[str]:
    return []


@pytest.fixture
def phone(kitchen: Book, codes: list[str]) -> Iterator[Phone]:
    """A phone that was not let in yet."""
    with serving(kitchen, codes) as client:
        yield client


@pytest.fixture
def inside(phone: Phone, codes: list[str]) -> Phone:
    assert phone.post("/code", data={"code": codes[-1]}).status_code == 200
    return phone


def butter(book: Book) -> list[Observation]:
    seen = price_history(book, "butter", on=TODAY).observations
    return [each for each in seen if each.observed_on == TODAY]


@pytest.mark.parametrize("where", ["/", "/dishes", BUTTER])
def test_nothing_is_told_without_the_code(phone: Phone, where: str) -> None:
    reply = phone.get(where)
    assert reply.status_code == 401
    for word in ("butter", "barley", "Quay Market", "$"):
        assert word not in reply.text
    assert "everyone on this network can see" in reply.text


@pytest.mark.parametrize("where", ["/price", "/undo"])
def test_nothing_is_stored_or_taken_back_without_the_code(
    phone: Phone, kitchen: Book, where: str
) -> None:
    form = {"ingredient": "butter", "price": "2.10", "pack": "500 g"}
    assert phone.post(where, data=form).status_code == 401
    assert butter(kitchen) == []


# the desk's rooms and what its pages speak with: none of it is here, also for a phone that is in
@pytest.mark.parametrize(
    "where",
    ["/today", "/ingredients", "/book", "/print", "/_stcore/health", "/_stcore/host-config",
     "/_stcore/upload_file/a/b", "/static/js/index.js", "/media/x", "/docs", "/openapi.json"],
)  # fmt: skip
def test_nothing_else_of_the_desk_is_there(inside: Phone, where: str) -> None:
    assert inside.get(where).status_code == 404
    assert inside.put(where).status_code == 404


@pytest.mark.parametrize("where", ["/_stcore/stream", "/", "/dishes"])
def test_no_socket_is_opened(inside: Phone, where: str) -> None:
    asks = {
        "Connection": "Upgrade", "Upgrade": "websocket", "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",  # of RFC 6455, 1.3
    }  # fmt: skip
    assert inside.get(where, headers=asks).status_code in (200, 404)  # not 101, the protocol's yes


def test_the_session_is_a_cookie_that_no_script_and_no_other_site_gets(
    phone: Phone, codes: list[str]
) -> None:
    reply = phone.post("/code", data={"code": codes[0]}, allow_redirects=False)
    assert reply.status_code == 303
    assert reply.headers["location"] == "/"
    cookie = reply.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert "Secure" not in cookie  # there is no certificate
    assert codes[0].replace(" ", "") not in cookie


def test_with_a_certificate_the_cookie_is_secure_and_no_caution_is_shown(kitchen: Book) -> None:
    codes: list[str] = []
    with serving(kitchen, codes, encrypted=True) as client:
        assert "can see" not in client.get("/").text
        reply = client.post("/code", data={"code": codes[0]}, allow_redirects=False)
    assert "Secure" in reply.headers["set-cookie"]


def test_a_code_in_the_address_is_not_taken(phone: Phone, codes: list[str]) -> None:
    assert phone.get("/code", params={"code": codes[0]}).status_code == 405
    assert phone.post(f"/code?code={codes[0]}").status_code == 403
    assert COOKIE not in phone.cookies


def test_ten_wrong_codes_close_the_room_to_the_right_one(phone: Phone, codes: list[str]) -> None:
    replies = [phone.post("/code", data={"code": "no"}).status_code for _ in range(10)]
    assert replies == [403] * 9 + [429]
    reply = phone.post("/code", data={"code": codes[0]})
    assert reply.status_code == 429
    assert "ten minutes" in reply.text


def test_a_form_of_another_place_is_refused(inside: Phone, kitchen: Book) -> None:
    form = {"ingredient": "butter", "price": "2.10", "pack": "500 g"}
    reply = inside.post("/price", data=form, headers={"Origin": "http://192.0.2.66"})
    assert reply.status_code == 400
    assert inside.post("/price", data=b"price=" + b"1" * 9000).status_code == 400
    assert butter(kitchen) == []


def test_the_last_pack_and_shop_are_taps_and_the_price_a_decimal_pad(inside: Phone) -> None:
    shown = inside.get(BUTTER).text
    assert 'inputmode="decimal"' in shown
    assert '<input type="radio" name="pack" value="500 g" checked>' in shown
    assert '<input type="radio" name="shop" value="Quay Market" checked>' in shown


@pytest.mark.parametrize(("typed", "stored"), [("2.85", "2.85"), ("2,85", "2.85")])
def test_a_price_is_stored_told_once_and_taken_back(
    inside: Phone, kitchen: Book, typed: str, stored: str
) -> None:
    form = {"ingredient": "butter", "price": typed, "pack": "500 g", "shop": "Quay Market"}
    said = f"Stored: butter, {stored} USD for 500 g at Quay Market."
    assert said in inside.post("/price", data=form).text
    (seen,) = butter(kitchen)
    assert [seen.price, seen.pack, seen.supplier] == [Decimal(stored), "500 g", "Quay Market"]
    assert said not in inside.get("/").text
    assert "Taken back" in inside.post("/undo").text
    assert butter(kitchen) == []


def test_what_is_written_beside_the_taps_counts(inside: Phone, kitchen: Book) -> None:
    form = {
        "ingredient": "butter", "price": "1.60", "pack": "500 g", "shop": "Quay Market",
        "other_pack": "250 g", "other_shop": "Hill Dairy",
    }  # fmt: skip
    inside.post("/price", data=form)
    (seen,) = butter(kitchen)
    assert [seen.pack, seen.supplier] == ["250 g", "Hill Dairy"]


@pytest.mark.parametrize("price", ["", "1,234", "two", "-3"])
def test_what_cannot_be_read_is_a_sentence_and_the_form_keeps_the_rest(
    inside: Phone, kitchen: Book, price: str
) -> None:
    form = {"ingredient": "butter", "price": price, "pack": "500 g", "other_shop": "A & <b>"}
    reply = inside.post("/price", data=form)
    assert reply.status_code == 422
    assert 'role="alert"' in reply.text
    assert 'value="A &amp; &lt;b&gt;"' in reply.text
    assert butter(kitchen) == []


def test_an_unusual_price_is_stored_only_when_it_is_said_to_be_right(
    inside: Phone, kitchen: Book
) -> None:
    form = {"ingredient": "butter", "price": "285", "pack": "500 g"}
    reply = inside.post("/price", data=form)
    assert "over three times what the book expects" in reply.text
    assert butter(kitchen) == []
    inside.post("/price", data={**form, "right": "yes"})
    assert [each.price for each in butter(kitchen)] == [285]


def test_an_unknown_ingredient_is_a_sentence(inside: Phone) -> None:
    reply = inside.get("/price?ingredient=<b>buter")
    assert reply.status_code == 409
    assert "&lt;b&gt;buter" in reply.text
    assert "<b>" not in reply.text


def test_each_dish_has_its_figure(inside: Phone) -> None:
    shown = inside.get("/dishes").text
    # barley bowl 2: (0.400 × 2.00 + 0.400 × 3.00) ÷ 4 = 0.50; saffron has no price: 0.40 ÷ 2 = 0.20
    assert "<td>barley bowl</td><td>$0.50</td>" in shown
    assert "<td>saffron barley</td><td>at least $0.20</td>" in shown
