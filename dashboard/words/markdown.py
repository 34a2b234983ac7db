"""Plain words on a page that reads Markdown: a dollar or an underscore stays what it is."""

from __future__ import annotations

import re
from urllib.parse import quote

_ADDRESS = re.compile(r"[a-z]:(?=//)|www(?=\.)|[^\s@](?=@)", re.IGNORECASE)
_MEANT = re.compile(r"([\\*_$\[\]<>~#|])")


def plain(text: str) -> str:
    """Return text that Markdown shows as it is; what stands in backticks stays code.

    >>> print(plain("$1.20 for [a_b]; run `portiondrift init --currency USD`"))
    \\$1.20 for \\[a\\_b\\]; run `portiondrift init --currency USD`
    """
    parts = text.split("`")
    if len(parts) % 2 == 0:  # a stray backtick means nothing
        return _MEANT.sub(r"\\\1", text.replace("`", "'"))
    return "`".join(
        part if number % 2 else _MEANT.sub(r"\\\1", part) for number, part in enumerate(parts)
    )


def unlinked(text: str) -> str:
    """Return text that Markdown shows as it is, with no link made of an address in it.

    An address is made a link of even where it is escaped, so a mark of no width parts it.

    >>> unlinked("http://e.x").replace("\u2060", "·"), unlinked("a@e.x").replace("\u2060", "·")
    ('http:·//e.x', 'a·@e.x')
    """
    return _ADDRESS.sub("\\g<0>\u2060", plain(text))


def unbroken(text: str) -> str:
    """Return a short figure with its unit, which a narrow column does not break."""
    return plain(text.replace(" ", "\u00a0"))


def link(words: str, page: str, section: str = "", **query: str) -> str:
    """Return a Markdown link to a page of the dashboard, or to a section of it."""
    asked = "&".join(f"{name}={quote(value, safe='')}" for name, value in query.items())
    return f"[{plain(words)}]({page}{'?' if asked else ''}{asked}{'#' if section else ''}{section})"


def dish_link(name: str, section: str = "", **query: str) -> str:
    """Return a link to a dish, or to a section of its page."""
    return link(name, "dishes", section, dish=name, **query)


def ingredient_link(name: str, section: str = "") -> str:
    """Return a link to an ingredient, or to a section of its page."""
    return link(name, "ingredients", section, ingredient=name)
