"""Names a line of a dish that waits for a decision, wherever a dish is told."""

from __future__ import annotations

from pricing.names import waiting_words


def waiting_name(name: str) -> str:
    """Return the name of a dish's line; one that waits says so.

    >>> waiting_name("waiting: smoked salt"), waiting_name("leek")
    ('smoked salt (waits for a decision)', 'leek')
    """
    words = waiting_words(name)
    return name if words is None else f"{words} (waits for a decision)"
