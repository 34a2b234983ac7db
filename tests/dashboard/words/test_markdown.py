"""Plain words on a page that reads Markdown."""

from __future__ import annotations

from dashboard.words.markdown import link, plain


def test_plain_words_stay_plain_on_a_page() -> None:
    assert plain("*_$[]<>~#|") == r"\*\_\$\[\]\<\>\~\#\|"
    assert plain("run `a_b $c`") == "run `a_b $c`"
    assert plain("a ` stray mark") == "a ' stray mark"


def test_a_link_carries_any_name() -> None:
    made = link("fish & chips", "prices", ingredient="fish & chips?")
    assert made == "[fish & chips](prices?ingredient=fish%20%26%20chips%3F)"
