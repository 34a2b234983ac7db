"""Rounding and showing amounts of money: once, at display (design: snap to 1e-9, then half up)."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal, localcontext
from functools import cache

from pricing.errors import PortionDriftError
from pricing.reference.table import read_table

_SNAP = Decimal("1e-9")


class CurrencyRefused(PortionDriftError, ValueError):
    """A currency code that is not in ISO 4217."""


@cache
def minor_units() -> dict[str, int]:
    """Return currency code → number of decimals, from ISO 4217 (see reference/currencies.csv)."""
    return {row["code"]: int(row["decimals"]) for row in read_table("currencies.csv")}


@cache
def currencies_written() -> dict[str, frozenset[str]]:
    """Return code or sign, as it stands beside an amount → the currencies that it may mean.

    >>> sorted(currencies_written()["kr"])
    ['DKK', 'ISK', 'NOK', 'SEK']
    """
    codes = {code: frozenset({code}) for code in minor_units()}
    signs = read_table("currency_signs.csv")
    return {**codes, **{row["sign"]: frozenset(row["currencies"].split()) for row in signs}}


def read_currency(code: str) -> str:
    """Return `code` in capitals. Raises CurrencyRefused when ISO 4217 does not list it."""
    upper = code.strip().upper()
    if upper not in minor_units():
        raise CurrencyRefused(
            f"Found currency '{code}'; expected an ISO 4217 code such as USD, GBP or EUR. "
            "Correct the code."
        )
    return upper


def round_money(amount: float | Decimal, currency: str) -> Decimal:
    """Return `amount` rounded once to the currency's minor unit, half up, after a snap to 1e-9.

    >>> round_money(0.125, "USD"), round_money(1.005, "USD"), round_money(2.675, "USD")
    (Decimal('0.13'), Decimal('1.01'), Decimal('2.68'))
    """
    digits = minor_units().get(currency, 2)
    with localcontext() as context:
        context.prec = 400  # enough for any float
        exact = Decimal(amount).quantize(_SNAP, ROUND_HALF_UP)
        return exact.quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)


def round_to(amount: float | Decimal, currency: str, step: int, *, up: bool = False) -> Decimal:
    """Return `amount` rounded once, after a snap to 1e-9, to a multiple of `step` minor units.

    To the nearest one, half a step up; with `up` to the next one above, unless it is one already.

    >>> str(round_to(1.024, "CAD", 5)), str(round_to(1.025, "CAD", 5))
    ('1.00', '1.05')
    >>> str(round_to(2.51, "USD", 10, up=True)), str(round_to(103, "JPY", 5))
    ('2.60', '105')
    """
    unit = Decimal(1).scaleb(-minor_units().get(currency, 2))
    with localcontext() as context:
        context.prec = 400
        exact = Decimal(amount).quantize(_SNAP, ROUND_HALF_UP)
        whole = exact / (step * unit)
        steps = whole.to_integral_value(ROUND_CEILING if up else ROUND_HALF_UP)
        return (steps * step * unit).quantize(unit)


def least_shown(currency: str) -> float:
    """Return half of the smallest unit shown: an amount under it rounds to nothing.

    >>> least_shown("USD"), least_shown("JPY"), least_shown("KWD")
    (0.005, 0.5, 0.0005)
    """
    return float(Decimal(5).scaleb(-minor_units().get(currency, 2) - 1))


def show_money(amount: float | Decimal | None, currency: str) -> str:
    """Return the amount with its currency as people write it, e.g. "$1.30", "£0.42", "CHF 3.05"."""
    if amount is None:
        return "—"
    rounded = round_money(amount, currency)
    return f"{'−' if rounded < 0 else ''}{currency_sign(currency)}{abs(rounded):,f}"


def exact_money(amount: Decimal, currency: str) -> str:
    """Return an amount with all of its digits that count, and at least those of its currency.

    >>> exact_money(Decimal("2.0000"), "GBP"), exact_money(Decimal("0.1250"), "USD")
    ('2.00 GBP', '0.125 USD')
    """
    exponent = amount.normalize().as_tuple().exponent
    needed = -exponent if isinstance(exponent, int) else 0
    return f"{amount:.{max(needed, minor_units()[currency])}f} {currency}"


def show_fine(amount: float, currency: str) -> str:
    """Return an amount of 0 or more with two figures, where whole minor units would say nothing.

    >>> show_fine(0.0031, "USD"), show_fine(0.000123, "CHF")
    ('$0.0031', 'CHF 0.00012')
    """
    return f"{currency_sign(currency)}{Decimal(f'{amount:.2g}'):f}"


def currency_sign(currency: str) -> str:
    """Return what stands before an amount: "$", "CHF "."""
    symbol = {"USD": "$", "GBP": "£", "EUR": "€", "CAD": "CA$", "AUD": "A$", "NZD": "NZ$"}
    return symbol.get(currency, f"{currency} ")


def apportion(
    amounts: Sequence[float], currency: str, total: Decimal | None = None
) -> list[Decimal]:
    """Round `amounts` so that they add up to `total`, else to their rounded sum.

    Largest remainder. `total` must be in whole minor units: another rounded figure that a reader
    will compare the sum with.

    >>> [str(part) for part in apportion([1 / 3, 1 / 3, 1 / 3], "USD")]
    ['0.34', '0.33', '0.33']
    """
    digits = minor_units().get(currency, 2)
    unit = Decimal(1).scaleb(-digits)
    with localcontext() as context:
        context.prec = 400
        exact = [Decimal(each).quantize(_SNAP, ROUND_HALF_UP) for each in amounts]
        down = [(each / unit).to_integral_value(rounding="ROUND_FLOOR") for each in exact]
        wanted = round_money(sum(exact, Decimal(0)), currency) if total is None else total
        short = int(wanted / unit - sum(down, Decimal(0)))
        by_remainder = sorted(range(len(exact)), key=lambda i: down[i] - exact[i] / unit)
        if short < 0:  # only with a total of another rounding
            by_remainder.reverse()
        for step in range(abs(short)):
            down[by_remainder[step % len(exact)]] += 1 if short > 0 else -1
        return [each * unit for each in down]
