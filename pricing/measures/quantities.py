"""Exact amounts: a number in a cook's text, and what it comes to in an ingredient's base unit."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from pricing.errors import MeasureRefused

LONGEST_TEXT = 200  # characters; checked before any pattern is tried
LARGEST_AMOUNT = 10**12  # the book keeps DECIMAL(28,12): 16 digits before the point, 12 after
DECIMAL_PLACES = 12
VULGAR_FRACTIONS = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"

_NUMBER = re.compile(
    rf"""(?: (?P<whole>[0-9]+) (?: [ ](?=[0-9]) | [ ]?(?=[{VULGAR_FRACTIONS}]) ) )?
         (?: (?P<top>[0-9]+) [/⁄] (?P<bottom>[0-9]+) | (?P<vulgar>[{VULGAR_FRACTIONS}]) )
       | (?P<plain>[0-9]+ (?:\.[0-9]+)? | \.[0-9]+ )""",
    re.VERBOSE,
)


@dataclass(frozen=True, kw_only=True)
class Quantity:
    """How much of an ingredient a pack holds or a recipe line asks for."""

    amount: Decimal  # in `dimension`: g, ml or each; for an own measure, how many of it
    dimension: str  # "g", "ml", "each" or "measure"
    measure_key: str | None  # names.name_key of the own measure, when dimension == "measure"


@dataclass(frozen=True, kw_only=True)
class IngredientFacts:
    """What the kitchen knows about turning one ingredient's measures into each other."""

    base: str  # "g", "ml" or "each": the unit its unit price is in
    density_g_per_ml: Decimal | None  # above 0
    grams_each: Decimal | None  # g as purchased of one piece, above 0
    grams_by_measure: Mapping[str, Decimal]  # measure key -> g as purchased of one measure


def shown(text: str) -> str:
    """Return `text` in quotes, short and printable, for a sentence.

    >>> shown("500\\x00 g")
    "'500\\\\x00 g'"
    """
    short = text if len(text) <= 40 else f"{text[:37]}..."
    return "'" + "".join(c if c.isprintable() else repr(c)[1:-1] for c in short) + "'"


def tidy(text: str, what: str) -> str:
    """Return `text` with single spaces; refuse it when it is too long or has hidden characters."""
    if len(text) > LONGEST_TEXT:
        raise MeasureRefused(
            found=f"a {what} of {len(text)} characters",
            expected=f"at most {LONGEST_TEXT}",
            remedy="Check that the columns of the file are the right way round.",
        )
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    for character in text:
        if _is_hidden(character):
            raise MeasureRefused(
                found=f"the hidden character U+{ord(character):04X} in the {what} {shown(text)}",
                expected="letters, digits and spaces",
                remedy="Type the text again by hand.",
            )
    return " ".join(text.split())


def _is_hidden(character: str) -> bool:
    """Tell control and format characters; line ends fold to spaces, joiners belong to scripts."""
    return unicodedata.category(character) in ("Cc", "Cf") and character not in "\t\r\n\u200c\u200d"


def read_number(text: str) -> Fraction:
    """Return the exact number above 0 that `text` writes: `2`, `1.5`, `1/2`, `1 1/2`, `½`, `1½`.

    Raises MeasureRefused for anything else: a decimal comma, a mark between thousands, a range,
    an exponent, zero, or a number over 10**12.

    >>> read_number("1 1/2")
    Fraction(3, 2)
    """
    number = tidy(text, "number")
    match = _NUMBER.fullmatch(number)
    if match is None:
        raise _unreadable(number)
    if plain := match["plain"]:
        value = Fraction(plain)
    else:
        if match["vulgar"]:
            numerals = unicodedata.normalize("NFKC", match["vulgar"]).split("⁄")
        else:
            numerals = [match["top"], match["bottom"]]
        top, bottom = int(numerals[0]), int(numerals[1])
        if bottom == 0 or (match["whole"] and top >= bottom):
            raise _unreadable(number)
        value = int(match["whole"] or 0) + Fraction(top, bottom)
    if not 0 < value <= LARGEST_AMOUNT:
        raise MeasureRefused(
            found=f"the number {shown(number)}",
            expected=f"a number above 0 and not over {LARGEST_AMOUNT:,}",
            remedy="Write how much it is.",
        )
    return value


def _unreadable(number: str) -> MeasureRefused:
    """Name the likeliest mistake in a number that cannot be read."""
    expected = "a number such as 2, 1.5, 1/2, 1 1/2 or ½"
    if not number:
        return MeasureRefused(found="no number", expected=expected, remedy="Write how much it is.")
    if re.search(r"[0-9][,'’_ ][0-9]", number) and "/" not in number:
        expected = "a point before decimals and no mark between thousands"
        remedy = "Write 1.5 or 1500."
    elif number[0] in "-−+":
        remedy = "Leave out the sign; amounts are above 0."
    elif re.search(r"[0-9] ?[-–—]", number):
        remedy = "Write one amount, not a range; write one and a half as 1 1/2."
    else:
        remedy = "Write the number in digits, without an exponent."
    return MeasureRefused(found=f"the number {shown(number)}", expected=expected, remedy=remedy)


def as_amount(value: Fraction, text: str) -> Decimal:
    """Return `value` as a Decimal, exact or else rounded half to even at 12 decimals.

    `text` is what the user wrote, for the sentence. Raises MeasureRefused beyond 10**12 or when
    the amount would round to 0.

    >>> as_amount(Fraction(1, 3), "1/3 g"), as_amount(Fraction(500), "500 g")
    (Decimal('0.333333333333'), Decimal('500'))
    """
    units = round(value * 10**DECIMAL_PLACES)  # round() of a Fraction is half to even
    if not 0 < units <= LARGEST_AMOUNT * 10**DECIMAL_PLACES:
        raise MeasureRefused(
            found=shown(text),
            expected=f"an amount between 0.000000000001 and {LARGEST_AMOUNT:,} g, ml or each",
            remedy="Check the number and the unit.",
        )
    whole, part = divmod(units, 10**DECIMAL_PLACES)
    decimals = f"{part:0{DECIMAL_PLACES}d}".rstrip("0")
    return Decimal(f"{whole}.{decimals}" if decimals else str(whole))


def missing_fact(quantity: Quantity, facts: IngredientFacts) -> str | None:
    """Return the fact still needed to turn `quantity` into the base unit, None when none is.

    The phrase is "density_g_per_ml", "grams_each", "measure 'x'", or two of them with "and".
    """
    missing = []
    start = quantity.dimension
    if start == "measure":
        if quantity.measure_key not in facts.grams_by_measure:
            missing.append(f"measure '{quantity.measure_key}'")
        start = "g"
    ends = {start, facts.base}
    if len(ends) == 2 and "ml" in ends and facts.density_g_per_ml is None:
        missing.append("density_g_per_ml")
    if len(ends) == 2 and "each" in ends and facts.grams_each is None:
        missing.append("grams_each")
    return " and ".join(missing) or None


def in_base(quantity: Quantity, facts: IngredientFacts) -> float:
    """Return `quantity` in the ingredient's base unit (g, ml or each), by way of grams.

    An own measure is grams as purchased; volume goes by density, a count by grams each.
    Raises MeasureRefused when `missing_fact` names a fact.
    """
    missing = missing_fact(quantity, facts)
    if missing is not None:
        raise MeasureRefused(
            found=f"an amount in {quantity.measure_key or quantity.dimension}",
            expected=f"a way to turn it into {facts.base}",
            remedy=f"Give the ingredient its {missing}.",
        )
    amount = Fraction(quantity.amount)
    if quantity.dimension == facts.base:
        return float(amount)
    grams_per = {
        "g": Fraction(1),
        "ml": Fraction(facts.density_g_per_ml or 1),
        "each": Fraction(facts.grams_each or 1),
    }
    if quantity.dimension == "measure":
        grams = amount * Fraction(facts.grams_by_measure[str(quantity.measure_key)])
    else:
        grams = amount * grams_per[quantity.dimension]
    return float(grams / grams_per[facts.base])
