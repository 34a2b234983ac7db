"""The text in which evidence is kept, to the letter: its hash must be the same ever after."""

from __future__ import annotations

from pricing.printed.evidence import as_text, sha256


def test_keys_stand_in_order_and_nothing_idle_between_them() -> None:
    given = {
        "prices": [{"price": "1.20", "pack": "1 kg"}],
        "costing": {"dish": "crème", "basis": 1},
    }
    written = '{"costing":{"basis":1,"dish":"crème"},"prices":[{"pack":"1 kg","price":"1.20"}]}'
    assert as_text(given) == written
    turned = {"costing": dict(reversed(given["costing"].items())), "prices": given["prices"]}
    assert as_text(turned) == written


def test_the_hash_is_of_the_text_in_utf_8() -> None:
    # FIPS 180-2, appendix B.1: SHA-256 of "abc"
    published = "ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad"
    assert sha256("abc") == published.replace(" ", "")
