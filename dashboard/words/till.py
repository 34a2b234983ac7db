"""A shop at the till in words, and as rows of a table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from dashboard.words.evidence import as_it_was_words, last_month_words
from dashboard.words.figures import amount_words, counted, figure, percent, version_words
from pricing.days import day_words, month_words
from pricing.money import apportion, round_money, show_money

if TYPE_CHECKING:
    from pricing.till.records import ItemBought, PackBought, ShopDish, Till

SHELF = (
    "Shelf prices differ by shop and day: these are the packs and prices that the book last saw. "
    "Look at the shelf before you count on them."
)
HEADINGS = ("Ingredient", "Needed", "Buy", "At the till", "Left over", "Worth", "Price evidence")


@dataclass(frozen=True, kw_only=True)
class ShopRow:
    """One row of the table: an ingredient's first pack, or a further pack of it."""

    ingredient: str  # empty on a further pack
    needed: str
    buy: str
    cost: str
    left_over: str
    worth: str
    evidence: str

    def cells(self) -> list[str]:
        """Return the row's texts in the order of HEADINGS."""
        return [
            self.ingredient, self.needed, self.buy, self.cost, self.left_over, self.worth,
            self.evidence,
        ]  # fmt: skip


def title_words(found: Till) -> str:
    """Return what is shopped for, when, and where if only one shop was asked for."""
    dishes = (
        found.dishes[0].dish
        if len(found.dishes) == 1
        else counted(len(found.dishes), "dish", "dishes")
    )
    where = f", at {found.supplier} only" if found.supplier else ""
    return f"Shopping for {dishes} on {day_words(found.on)}{where}"


def total_words(found: Till) -> list[str]:
    """Return the sums: at the till and on the plate, and what of it is left over."""
    money = found.currency
    if not any(item.packs for item in found.ingredients):
        if found.ingredients:
            return ["Nothing to buy: no ingredient has a pack."]
        return ["Nothing to buy: every line is a store-cupboard line."]
    each = (
        f"{figure(found.cost_per_portion, found.complete, money)} and "
        f"{figure(found.plate_cost_per_portion, found.complete, money)} a portion"
    )
    lines = [
        f"At the till {found.display['cost']}, on the plate {found.display['plate_cost']} "
        f"({each}, {counted(found.portions, 'portion')})."
    ]
    if found.left_over_value > 0:
        lines.append(
            f"Left over: {show_money(found.left_over_value, money)} of it "
            f"({percent(found.left_over_share)}), at what the packs cost."
        )
        lines += _used_words(found)
    else:
        lines.append("Nothing is left over.")
    return lines


def _used_words(found: Till) -> list[str]:
    """Return why till less left-overs is not the plate: a reader takes one from the other."""
    apart = abs(found.cost - found.left_over_value - found.plate_cost)
    if not found.complete or round_money(apart, found.currency) == 0:
        return []
    # from the rounded figures, since those are the ones a reader subtracts
    bought, left = (
        round_money(each, found.currency) for each in (found.cost, found.left_over_value)
    )
    used = show_money(bought - left, found.currency)
    return [
        f"What is used of these packs costs {used}; a costing takes the typical price of all "
        "packs and shops seen."
    ]


def dish_words(dish: ShopDish, currency: str) -> str:
    """Return one dish of the shop with its cost on the plate."""
    version = version_words(dish.version, dish.version_in_force)
    many = f"{counted(dish.batches, 'batch', 'batches')}, {counted(dish.portions, 'portion')}"
    return (
        f"{dish.dish}, {version}: {many}; on the plate "
        f"{figure(dish.cost_per_batch, dish.complete, currency)} a batch, "
        f"{figure(dish.cost_per_portion, dish.complete, currency)} a portion, pantry lines included"
    )


def not_counted_words(found: Till) -> str:
    """Return which store-cupboard lines were left out; empty when none was."""
    named = [
        f"{item.ingredient} {amount_words(item.needed, item.base)}".rstrip()
        for item in found.not_counted
    ]
    return f"Not bought, since the pantry has it: {', '.join(named)}." if named else ""


def shop_rows(found: Till) -> list[ShopRow]:
    """Return what to buy; costs are rounded so that they add up to the shown total."""
    money = found.currency
    costs = apportion([item.cost or 0.0 for item in found.ingredients], money)
    worths = apportion([item.left_over_value or 0.0 for item in found.ingredients], money)
    rows = []
    for item, cost, worth in zip(found.ingredients, costs, worths, strict=True):
        name = f"{item.ingredient} (pantry)" if item.pantry else item.ingredient
        needed = amount_words(item.needed, item.base)
        if not item.packs:
            rows.append(
                ShopRow(
                    ingredient=name, needed=needed, buy="no pack", cost="—", left_over="",
                    worth="", evidence=(item.reason or "").rstrip("."),
                )
            )  # fmt: skip
            continue
        first, *others = item.packs
        left = item.left_over or 0.0
        rest = left > 1e-9 * item.bought
        rows.append(
            ShopRow(
                ingredient=name,
                needed=needed,
                buy=buy_words(first, money),
                cost=show_money(cost, money),
                left_over=amount_words(left, item.base) if rest else "none",
                worth=show_money(worth, money) if rest else "",
                evidence=pack_words(item, first),
            )
        )
        rows += [
            ShopRow(
                ingredient="", needed="", buy=f"and {buy_words(pack, money)}", cost="",
                left_over="", worth="", evidence=pack_words(item, pack),
            )
            for pack in others
        ]  # fmt: skip
    return rows


def buy_words(pack: PackBought, currency: str) -> str:
    """Return e.g. "2 × 500 g at $1.99"; "about" where a price is not in whole smallest units."""
    whole = abs(float(round_money(pack.price, currency)) - pack.price) < 1e-9
    price = f"{'' if whole else 'about '}{show_money(pack.price, currency)}"
    return f"{pack.count:,} × {pack.pack} at {price}"


def pack_words(item: ItemBought, pack: PackBought) -> str:
    """Return where and when a pack was seen, and what moved or held its price."""
    where = " at ".join(each for each in (pack.product, pack.supplier) if each)
    words = f"{where or 'place not stated'}, {day_words(pack.seen_on)}"
    if pack.moved:
        between = " and ".join(month_words(day) for day in item.anchors)
        path = f" between {between}" if len(item.anchors) == 2 else ""
        words += f", moved{path} by {item.series_title or item.series}, ×{pack.factor:.2f}"
        return words + last_month_words(item.held_at)
    return words + as_it_was_words(item.reason)
