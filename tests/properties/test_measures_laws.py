"""Laws of measures: there and back, a compound is its sum, twice as many is twice as much."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from pricing.errors import MeasureRefused
from pricing.measures.read import (
    SYSTEMS,
    IngredientFacts,
    Quantity,
    in_base,
    read_number,
    read_pack,
    read_quantity,
)
from pricing.measures.units import Unit, all_units

systems = st.sampled_from(SYSTEMS)
bases = st.sampled_from(["g", "ml", "each"])
amounts = st.decimals(min_value="0.001", max_value="1000000", places=3)
factors = st.decimals(min_value="0.01", max_value="5000", places=2)
half = Fraction(1, 2 * 10**12)  # the amount kept is the exact one to 12 decimals


def spelled(unit_system: str, name: str) -> str:
    """Return a unit's name with its prefix, which any book reads."""
    return name if unit_system == "any" else f"{unit_system} {name}"


@given(whole=st.integers(0, 999), top=st.integers(1, 99), bottom=st.integers(2, 99))
def test_a_mixed_number_is_whole_plus_fraction(whole: int, top: int, bottom: int) -> None:
    if whole and top < bottom:
        assert read_number(f"{whole} {top}/{bottom}") == whole + Fraction(top, bottom)
    assert read_number(f"{top}/{bottom}") * bottom == top


@given(number=st.decimals(min_value="0.000001", max_value="999999", places=6))
def test_a_decimal_is_read_as_written(number: Decimal) -> None:
    assert read_number(f"{number:f}") == Fraction(number)


@given(number=amounts, unit=st.sampled_from(all_units()), system=systems)
def test_any_unit_is_its_factor_times_the_number(number: Decimal, unit: Unit, system: str) -> None:
    name = spelled(unit.system, unit.name)
    read = read_pack(f"{number:f} {name}", system)
    assert read.dimension == unit.dimension
    assert abs(Fraction(read.amount) - Fraction(number) * unit.factor) <= half
    assert read == read_quantity(f"{number:f}", name, system)
    for alias in unit.aliases:
        assert read == read_pack(f"{number:f} {spelled(unit.system, alias).upper()}", system)


@given(pounds=amounts, ounces=amounts, system=systems)
def test_a_compound_is_the_sum_of_its_parts(pounds: Decimal, ounces: Decimal, system: str) -> None:
    whole = read_pack(f"{pounds:f} lb {ounces:f} oz", system).amount
    parts = [read_pack(f"{pounds:f} lb", system), read_pack(f"{ounces:f} oz", system)]
    # Thousandths of an oz have 12 decimals, so nothing is rounded here.
    assert whole == sum(part.amount for part in parts)


@given(count=st.integers(1, 500), size=amounts, unit=st.sampled_from(["g", "ml", "each", "lb"]))
def test_a_multipack_is_count_times_size(count: int, size: Decimal, unit: str) -> None:
    one = read_pack(f"{size:f} {unit}", "uk").amount
    assert read_pack(f"{count} x {size:f} {unit}", "uk").amount == count * one


@given(amount=amounts, start=bases, end=bases, density=factors, each=factors)
def test_there_and_back_is_where_we_started(
    amount: Decimal, start: str, end: str, density: Decimal, each: Decimal
) -> None:
    def to(base: str, quantity: Quantity) -> float:
        known = IngredientFacts(
            base=base, density_g_per_ml=density, grams_each=each, grams_by_measure={}
        )
        return in_base(quantity, known)

    there = to(end, Quantity(amount=amount, dimension=start, measure_key=None))
    back = to(start, Quantity(amount=Decimal(there), dimension=end, measure_key=None))
    assert abs(back - float(amount)) <= 1e-12 * float(amount)


@given(amount=amounts, times=st.integers(2, 1000), base=bases, density=factors, each=factors)
def test_more_of_a_measure_is_as_much_more_in_any_base(
    amount: Decimal, times: int, base: str, density: Decimal, each: Decimal
) -> None:
    known = IngredientFacts(
        base=base,
        density_g_per_ml=density,
        grams_each=each,
        grams_by_measure={"bunch": Decimal(80)},
    )
    one = in_base(Quantity(amount=amount, dimension="measure", measure_key="bunch"), known)
    many = Quantity(amount=amount * times, dimension="measure", measure_key="bunch")
    assert abs(in_base(many, known) - times * one) <= 1e-12 * times * one


@given(text=st.text(max_size=60), unit=st.text(max_size=30), system=systems)
def test_any_text_is_read_or_refused_with_a_printable_sentence(
    text: str, unit: str, system: str
) -> None:
    calls: list[Callable[[], Quantity]] = [
        lambda: read_pack(text, system, ["bunch"]),
        lambda: read_quantity(text, unit, system, ["bunch"]),
    ]
    for call in calls:
        try:
            quantity = call()
        except MeasureRefused as refused:
            sentence, amount = str(refused), None
        else:
            sentence, amount = "", quantity.amount
        assert sentence.isprintable()
        assert amount is None or 0 < amount <= 10**12


@given(
    text=st.lists(
        st.sampled_from(["1", "1/2", "½", ".", ",", " ", "x", "lb", "oz", "g", "kg", "bunch", "-"]),
        max_size=12,
    ).map("".join)
)
def test_near_misses_are_read_or_refused_and_read_the_same_twice(text: str) -> None:
    try:
        quantity = read_pack(text, "uk", ["bunch"])
    except MeasureRefused:
        return
    assert read_pack(f"  {text}  ", "uk", ["bunch"]) == quantity
    assert read_pack(text.upper(), "uk", ["bunch"]) == quantity
