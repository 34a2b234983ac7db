"""The addresses of the phone's room: each is answered here, or not at all."""

from __future__ import annotations

import os
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import parse_qsl

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from dashboard.phone import html, room
from dashboard.phone.gate import SESSION_SECONDS, Entered, Gate, Session
from ingest.load import FileReport, PricePreview, undo
from pricing.book.connect import Book
from pricing.clock import today
from pricing.errors import PortionDriftError

COOKIE = "portiondrift_phone"
LARGEST_FORM = 8_000  # bytes
HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    ),
    "Referrer-Policy": "same-origin",  # without any, a form would not say where it comes from
    "X-Content-Type-Options": "nosniff",
}
_WRONG = "That is not the code. Type the one that the terminal shows now."
_REFUSED = "Too many wrong codes: none is taken for ten minutes. Then type the one shown."
_Answer = Callable[["Asked"], Response]


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One request of a phone that was let in."""

    book: Book
    session: Session
    form: dict[str, str]  # what was tapped and typed, or stood behind the ? of the address
    encrypted: bool


def application(book: Path, gate: Gate, *, encrypted: bool) -> Starlette:
    """Return the room as a web application. It answers nothing but a code without a session."""
    wait = float(os.environ.get("PORTIONDRIFT_WAIT_SECONDS", "5"))
    kept = Book(path=book, wait_seconds=wait)

    def inside(answer: _Answer) -> Callable[[Request], Awaitable[Response]]:
        async def reply(request: Request) -> Response:
            session = gate.session(request.cookies.get(COOKIE))
            if session is None:
                asks = html.code_page("", encrypted=encrypted)
                return HTMLResponse(asks, status_code=401, headers=HEADERS)
            if (form := await _form(request)) is None:
                return Response(status_code=400, headers=HEADERS)
            asked = Asked(book=kept, session=session, form=form, encrypted=encrypted)
            return await run_in_threadpool(_answered, answer, asked)

        return reply

    async def enter(request: Request) -> Response:
        if (form := await _form(request)) is None:
            return Response(status_code=400, headers=HEADERS)
        came, secret = gate.enter(form.get("code", ""))
        if secret is None:
            said, status = (_WRONG, 403) if came is Entered.WRONG else (_REFUSED, 429)
            asks = html.code_page(said, encrypted=encrypted)
            return HTMLResponse(asks, status_code=status, headers=HEADERS)
        reply = _to_first()
        reply.set_cookie(
            COOKIE, secret, max_age=int(SESSION_SECONDS), httponly=True, samesite="strict",
            secure=encrypted,
        )  # fmt: skip
        return reply

    return Starlette(
        routes=[
            Route("/", inside(_first), methods=["GET"]),
            Route("/code", enter, methods=["POST"]),
            Route("/price", inside(_price_form), methods=["GET"]),
            Route("/price", inside(_store), methods=["POST"]),
            Route("/undo", inside(_take_back), methods=["POST"]),
            Route("/dishes", inside(_dishes), methods=["GET"]),
        ]
    )


async def _form(request: Request) -> dict[str, str] | None:
    """Return what a form holds; None if it is too large, or comes from a page of another place."""
    if request.method != "POST":
        return dict(request.query_params)
    origin = request.headers.get("origin")
    if origin not in (None, f"{request.url.scheme}://{request.headers.get('host')}"):
        return None
    body = b""
    async for part in request.stream():
        body += part
        if len(body) > LARGEST_FORM:
            return None
    return dict(parse_qsl(body.decode("utf-8", "replace"), keep_blank_values=True))


def _answered(answer: _Answer, asked: Asked) -> Response:
    try:
        return answer(asked)
    except PortionDriftError as error:
        return _html(html.problem_page(str(error), encrypted=asked.encrypted), status=409)


def _html(text: str, status: int = 200) -> Response:
    return HTMLResponse(text, status_code=status, headers=HEADERS)


def _to_first() -> Response:
    return RedirectResponse("/", status_code=303, headers=HEADERS)


def _first(asked: Asked) -> Response:
    names = room.ingredients_to_log(asked.book)
    shown = html.first_page(names, asked.session, encrypted=asked.encrypted)
    asked.session.said = ""  # shown once
    return _html(shown)


def _price_form(asked: Asked) -> Response:
    found = room.offers(asked.book, asked.form.get("ingredient", ""), today())
    return _html(html.price_page(found, {}, encrypted=asked.encrypted))


def _store(asked: Asked) -> Response:
    found = room.offers(asked.book, asked.form.get("ingredient", ""), today())
    fields = room.fields_of(asked.form, found.currency, today())
    came = room.store(asked.book, fields, today(), right=asked.form.get("right") == "yes")
    if not isinstance(came, FileReport):
        unusual = isinstance(came, PricePreview)
        said = came.sentences if isinstance(came, PricePreview) else [p.sentence() for p in came]
        shown = html.price_page(found, asked.form, said, unusual=unusual, encrypted=asked.encrypted)
        return _html(shown, status=422)
    where = f" at {fields['supplier']}" if fields["supplier"] else ""
    what = f"{found.ingredient}, {fields['price']} {found.currency} for "
    asked.session.said = (
        f"In the book already: {what}{fields['pack']}{where}."
        if came.load is None
        else f"Stored: {what}{fields['pack']}{where}."
    )
    asked.session.load = came.load
    return _to_first()


def _take_back(asked: Asked) -> Response:
    if (load := asked.session.load) is not None:
        undo(asked.book, load)
        asked.session.said, asked.session.load = "Taken back; it no longer counts.", None
    return _to_first()


def _dishes(asked: Asked) -> Response:
    return _html(
        html.dishes_page(room.dishes_today(asked.book, today()), encrypted=asked.encrypted)
    )
