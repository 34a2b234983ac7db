"""How words of tables compare: without accents, capitals and marks."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_LETTERS = str.maketrans({"ł": "l", "ø": "o", "đ": "d", "æ": "ae", "œ": "oe"})
_MARKS = re.compile(r"[^\w%]+|_")


@lru_cache(maxsize=20_000)
def fold(text: str) -> str:
    """Return the form in which words compare.

    >>> fold("  Größe (ml) "), fold("Qté. livrée"), fold("ŁĄCZNIE"), fold("VAT %")
    ('grosse ml', 'qte livree', 'lacznie', 'vat %')
    """
    apart = unicodedata.normalize("NFKD", text.casefold().translate(_LETTERS))
    bare = "".join(each for each in apart if not unicodedata.combining(each))
    return " ".join(_MARKS.sub(" ", bare).replace("%", " % ").split())
