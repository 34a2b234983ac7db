"""How the phone's room looks: plain pages without a script, in one thumb's reach."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from urllib.parse import quote

from dashboard.phone.gate import Session
from dashboard.phone.room import KINDS, Offers
from pricing.dishes.on_a_day import DishesOnADay
from pricing.money import show_money

OPEN_WORDS = (
    "The connection is not encrypted: everyone on this network can see what goes between this "
    "phone and the computer, the code too. Use it on a network that you trust."
)
_STYLE = """
:root { color-scheme: light dark; --lead: #0072b2; --edge: #767676; }
body { font: 1.1rem system-ui, sans-serif; margin: 0 auto; max-width: 34rem; padding: .75rem; }
h1 { font-size: 1.3rem; margin: .5rem 0; }
nav { display: flex; gap: .5rem; margin-bottom: .5rem; }
nav a, .tap, button { display: block; min-height: 2.75rem; line-height: 2.75rem; padding: 0 .9rem;
  border: 1px solid var(--edge); border-radius: .5rem; color: inherit; text-decoration: none;
  font: inherit; line-height: 2.75rem; background: none; overflow-wrap: anywhere; }
button.main { width: 100%; background: var(--lead); border-color: var(--lead); color: #fff; }
ul { list-style: none; padding: 0; display: grid; gap: .4rem; }
fieldset { border: 0; padding: 0; margin: .75rem 0; display: flex; flex-wrap: wrap; gap: .4rem; }
label { display: block; }
.tap input { margin: 0 .4rem 0 0; }
.tap:has(:checked) { border: 2px solid var(--lead); font-weight: 600; }
input[type=text] { font: inherit; font-size: 1.2rem; width: 100%; box-sizing: border-box;
  min-height: 2.75rem; padding: 0 .6rem; border: 1px solid var(--edge); border-radius: .5rem; }
.said { border-left: 4px solid var(--lead); padding: .4rem .6rem; }
.small { font-size: .9rem; }
table { width: 100%; border-collapse: collapse; }
td { padding: .5rem 0; border-bottom: 1px solid var(--edge); }
td:last-child { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
"""


def page(title: str, body: str, *, encrypted: bool) -> str:
    """Return a whole page."""
    caution = "" if encrypted else f'<p class="small">{OPEN_WORDS}</p>'
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<link rel="icon" href="data:,"><title>{escape(title)}</title><style>{_STYLE}</style>'
        f"</head><body>{body}{caution}</body></html>"
    )


def code_page(said: str, *, encrypted: bool) -> str:
    """Return the page that asks for the code."""
    body = (
        f"<h1>portiondrift</h1>{_said(said)}"
        '<form method="post" action="/code"><label for="code">The code that the terminal shows'
        "</label>"
        '<input type="text" id="code" name="code" inputmode="numeric" autocomplete="one-time-code" '
        'maxlength="20" required autofocus><p><button class="main">Enter</button></p></form>'
    )
    return page("portiondrift: code", body, encrypted=encrypted)


def first_page(names: Sequence[str], session: Session, *, encrypted: bool) -> str:
    """Return what can be logged, below what was stored last."""
    back = (
        '<form method="post" action="/undo"><button>Take it back</button></form>'
        if session.load is not None and session.said
        else ""
    )
    links = ((f"/price?ingredient={quote(name, safe='')}", name) for name in names)
    taps = "".join(f'<li><a class="tap" href="{to}">{escape(name)}</a></li>' for to, name in links)
    none = "" if names else "<p>The book holds no ingredient yet.</p>"
    body = (
        f"{_ways()}{_said(session.said)}{back}<h1>Log a price of</h1>{none}"
        f'<ul aria-label="Ingredients">{taps}</ul>'
    )
    return page("Log a price", body, encrypted=encrypted)


def price_page(
    found: Offers,
    form: Mapping[str, str],
    problems: Sequence[str] = (),
    *,
    unusual: bool = False,
    encrypted: bool,
) -> str:
    """Return the form of one price, as it was filled in so far."""
    said = "".join(f'<p class="said" role="alert">{escape(each)}</p>' for each in problems)
    right = (
        '<label class="tap"><input type="checkbox" name="right" value="yes">'
        "This price is right, store it as it is</label>"
        if unusual
        else ""
    )
    body = (
        f'{_ways()}<h1>{escape(found.ingredient)}</h1>{said}<form method="post" action="/price">'
        f'<input type="hidden" name="ingredient" value="{escape(found.ingredient)}">'
        f'<label for="price">Price of the pack, {escape(found.currency)}</label>'
        '<input type="text" id="price" name="price" inputmode="decimal" autocomplete="off" '
        f'required autofocus value="{escape(form.get("price", ""))}">'
        f"{_taps('Pack', 'pack', found.packs, form, '500 g, 6 x 330 ml, 12 each')}"
        f"{_taps('Shop', 'shop', found.shops, form, 'a shop')}"
        f"{_taps('Kind', 'kind', KINDS, form, None)}{right}"
        '<p><button class="main">Store this price</button></p></form>'
    )
    return page(f"Price of {found.ingredient}", body, encrypted=encrypted)


def dishes_page(found: DishesOnADay, *, encrypted: bool) -> str:
    """Return what a portion of each dish costs."""
    rows = "".join(
        f"<tr><td>{escape(each.dish)}</td><td>{'' if each.complete else 'at least '}"
        f"{escape(show_money(each.cost_per_portion, found.currency))}</td></tr>"
        for each in found.dishes
    )
    body = (
        f"{_ways()}<h1>A portion today</h1><table>{rows}</table>"
        if rows
        else f"{_ways()}<p>The book holds no dish yet.</p>"
    )
    return page("Dishes", body, encrypted=encrypted)


def problem_page(said: str, *, encrypted: bool) -> str:
    """Return a page that says what went wrong."""
    return page("portiondrift", f"{_ways()}{_said(said)}", encrypted=encrypted)


def _ways() -> str:
    return '<nav><a href="/">Log a price</a><a href="/dishes">Dishes</a></nav>'


def _said(said: str) -> str:
    return f'<p class="said" role="status">{escape(said)}</p>' if said else ""


def _taps(
    title: str, name: str, options: Sequence[str], form: Mapping[str, str], other: str | None
) -> str:
    """Return options of which one is tapped, the first unless another was, and a field beside."""
    chosen = form.get(name) or (options[0] if options else "")
    taps = "".join(
        f'<label class="tap"><input type="radio" name="{name}" value="{escape(each)}"'
        f"{' checked' if each == chosen else ''}>{escape(each)}</label>"
        for each in options
    )
    field = (
        ""
        if other is None
        else f'<input type="text" name="other_{name}" aria-label="Another {title.lower()}" '
        f'placeholder="{"another: " if options else ""}{other}" '
        f'value="{escape(form.get(f"other_{name}", ""))}">'
    )
    return f"<fieldset><legend>{title}</legend>{taps}{field}</fieldset>"
