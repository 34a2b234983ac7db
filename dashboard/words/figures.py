"""Figures as a reader sees them: amounts of money, shares, quantities, and their signs."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from functools import cache

from pricing.measures.units import SYSTEMS, all_units
from pricing.money import (
    currency_sign,
    minor_units,
    round_money,
    show_fine,
    show_money,
)

NOTHING = 1e-9  # what is left of a sum of floats
# units that are words, not signs
_WORDS = ("cup", "pint", "quart", "gallon", "pair", "therm", "portion")


def counted(number: float, one: str, many: str | None = None) -> str:
    """Return "1 day", "2 days", "7.5 portions"."""
    return f"{plain_number(number)} {one if number == 1 else many or one + 's'}"


def half_products_words(names: Sequence[str]) -> str:
    """Return which dishes do not count, and how they would."""
    return f"Left out, as only other dishes take them: {', '.join(names)}. Name them to count them."


def listed(names: Sequence[str]) -> str:
    """Return "butter", "butter and haddock", "butter, haddock and peas"."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def plain_number(value: float, most_decimals: int = 3) -> str:
    """Return a number without trailing zeros, e.g. 1.5, 12, 0.333."""
    text = f"{value:,.{most_decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def amount_words(quantity: float | None, base: str | None) -> str:
    """Return an as-purchased amount with its unit: 450 g, 1.25 kg, 330 ml, 2 each."""
    if quantity is None or base is None:
        return ""
    if base in ("g", "ml") and quantity >= 1000:
        return f"{plain_number(quantity / 1000, 2)} {'kg' if base == 'g' else 'l'}"
    decimals = 2 if base == "each" or quantity < 1 else (0 if quantity >= 100 else 1)
    return f"{plain_number(quantity, decimals)} {base}"


def quantity_words(quantity: float, unit: str, most_decimals: int = 3) -> str:
    """Return what a recipe line asks for, with its unit in the right number.

    A unit in letters takes an s; an own measure of the kitchen is counted, since its plural is not
    known.

    >>> quantity_words(2, "cup"), quantity_words(0.5, "us cup"), quantity_words(20, "oz")
    ('2 cups', '0.5 us cup', '20 oz')
    >>> quantity_words(2, "batch"), quantity_words(2, "fillet"), quantity_words(1.2, "kWh")
    ('2 batches', '2 × fillet', '1.2 kWh')
    """
    number = plain_number(quantity, most_decimals)
    if quantity == 1:
        return f"{number} {unit}"
    name = unit.casefold()  # kWh is kwh in the table of units
    many = _many().get(name.rpartition(" ")[2] if name.split(" ")[0] in SYSTEMS else name)
    if many is None:
        return f"{number} × {unit}"
    return f"{number} {unit}{many}" if quantity > 1 else f"{number} {unit}"


@cache
def _many() -> dict[str, str]:
    """Return what each unit, however it is spelled, takes when there are more than one."""
    spelled = {name: "" for unit in all_units() for name in (unit.name, *unit.aliases)}
    return spelled | dict.fromkeys(_WORDS, "s") | {"batch": "es"}


def figure(amount: float, complete: bool, currency: str) -> str:
    """Return an amount, or "at least" and the amount when a line of it has no price."""
    return f"{'' if complete else 'at least '}{show_money(amount, currency)}"


def version_words(version: str, in_force: bool) -> str:
    """Return which version a dish was costed in, and that it is not the one of that day."""
    return f"version {version}{'' if in_force else ', not the one in force on that day'}"


def percent(share: float | None) -> str:
    """Return a share of 1 as "12 %"."""
    return "—" if share is None else f"{100 * share:.0f} %"


def signed(amount: float | Decimal, shown: str) -> str:
    """Return what is shown of an amount behind its sign: − or +; nothing has none."""
    return shown if amount == 0 else f"{'−' if amount < 0 else '+'}{shown}"


def signed_number(value: float, decimals: int = 1) -> str:
    """Return a number with its sign: +1.2, −0.3."""
    rounded = round(value, decimals) + 0.0
    return signed(rounded, f"{abs(rounded):.{decimals}f}")


def signed_rate(per_cent: float | None) -> str:
    """Return a change in per cent, to a tenth: +12.3 %, −0.4 %."""
    return "—" if per_cent is None else f"{signed_number(per_cent)} %"


def signed_percent(share: float | None) -> str:
    """Return a change, a share of 1, as "+12 %" or "−3 %"."""
    return "—" if share is None else f"{signed_number(100 * share, 0)} %"


def signed_tenths(share: float) -> str:
    """Return a change as "+12 %", and one under a percent as "+0.3 %"; nothing as a dash."""
    if abs(share) < NOTHING:
        return "—"
    if abs(share) >= 0.00995:
        return signed_percent(share)
    return signed(share, f"{abs(100 * share):.1g} %")


def signed_money(amount: float | Decimal, currency: str) -> str:
    """Return a change of money with its sign: +$0.31, −$0.20."""
    rounded = round_money(amount, currency)
    return signed(rounded, show_money(abs(rounded), currency))


def signed_fine(amount: float, currency: str) -> str:
    """Return a change of money, with two figures of it where whole cents would say nothing.

    >>> signed_fine(0.31, "USD"), signed_fine(-0.0031, "USD"), signed_fine(0.0, "USD")
    ('+$0.31', '−$0.0031', '—')
    """
    if abs(amount) < NOTHING:
        return "—"
    if round_money(amount, currency):
        return signed_money(amount, currency)
    return signed(amount, show_fine(abs(amount), currency))


def signed_mean(amount: float, currency: str) -> str:
    """Return a change of a mean with its sign, to a tenth of the smallest unit shown.

    >>> signed_mean(0.0131, "USD"), signed_mean(-6.0, "JPY"), signed_mean(0.0042, "KWD")
    ('+$0.013', '−JPY 6.0', '+KWD 0.0042')
    """
    digits = minor_units().get(currency, 2) + 1
    rounded = round(amount, digits) + 0.0
    return signed(rounded, f"{currency_sign(currency)}{abs(rounded):,.{digits}f}")
