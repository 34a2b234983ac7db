"""Dish versions, which one is in force on a date, and what a portion takes as purchased."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from pricing.book.connect import Connection
from pricing.book.read import rows
from pricing.errors import MeasureRefused, RecipeRefused, UnknownName
from pricing.measures.read import read_number
from pricing.names import find, name_key


@dataclass(frozen=True, kw_only=True)
class Version:
    """One version of a dish."""

    row: int  # its row in the book
    dish_id: int
    dish: str
    version: str
    effective_from: date
    portions: float  # per batch
    batch_weight_g: float | None
    group: str | None  # of dishes: soups, bakes
    minutes: float | None  # of work, per batch
    made_per_month: float | None  # batches
    target: float | None  # cost per portion, in the book's currency

    def weight_g(self, portions: float) -> float | None:
        """Return what so many portions weigh; None where the weight of a batch is not stated."""
        weight = self.batch_weight_g
        return None if weight is None else weight * portions / self.portions


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of a version: an ingredient, or another dish (then sub_dish_id is set)."""

    position: int
    ingredient_id: int | None
    sub_dish_id: int | None
    name: str  # of the ingredient or the other dish
    quantity: str  # as written
    unit: str  # as written
    amount: float  # in `dimension`
    dimension: str
    state: str  # as_purchased or edible
    pantry: bool
    base: str | None  # g, ml or each
    as_purchased: float | None  # in `base`, per batch
    trim: float | None  # bought per unit needed: 1, or 1 ÷ yield of an edible amount
    allergens: tuple[str, ...] | None = None  # of the ingredient, as entered; None = unknown

    def written(self) -> tuple[float, str]:
        """Return the quantity as a number, and its unit, as written.

        "2 x 400" g or "1 lb 4" oz is no single number: it is given in the unit it came to.
        """
        try:
            return float(read_number(self.quantity)), self.unit
        except MeasureRefused:
            return self.amount, self.unit if self.dimension == "measure" else self.dimension


@dataclass(frozen=True, kw_only=True)
class Recipes:
    """Dishes with all that they use, read in one look at the book."""

    versions: dict[int, list[Version]]  # dish id → versions by effective_from
    lines: dict[int, list[Line]]  # version row → lines as printed

    def ingredients(self) -> dict[int, tuple[str, str | None]]:
        """Return ingredient id → name and base unit, of all lines."""
        return {
            line.ingredient_id: (line.name, line.base)
            for lines in self.lines.values()
            for line in lines
            if line.ingredient_id is not None
        }

    def in_force(self, dish_id: int, on: date) -> tuple[Version, bool]:
        """Return the latest version effective on or before `on`, else the first one and False."""
        versions = self.versions[dish_id]
        started = [version for version in versions if version.effective_from <= on]
        return (started[-1], True) if started else (versions[0], False)

    def recipe_day(self, version: Version, on: date) -> date:
        """Return the day whose sub-recipes a version is costed with, whatever its prices are.

        `on`, if the version is in force then; else the last day it was, if that is before `on`;
        else the day it begins.
        """
        if version.effective_from > on:
            return version.effective_from
        versions = self.versions[version.dish_id]
        place = next(at for at, each in enumerate(versions) if each.row == version.row)
        if place + 1 == len(versions):
            return on
        last = versions[place + 1].effective_from - timedelta(days=1)
        # a version replaced on the day it began was never in force
        return max(version.effective_from, min(on, last))

    def named(self, dish_id: int, version: str) -> Version:
        """Return the version with this exact label. Raises UnknownName."""
        versions = self.versions[dish_id]
        for candidate in versions:
            if candidate.version == str(version):  # a number, as a notebook may hand it over
                return candidate
        labels = [candidate.version for candidate in versions]
        raise UnknownName(
            f"version of '{versions[0].dish}'", version, remedy=f"It has: {', '.join(labels)}."
        )

    def batches_taken(self, line: Line, sub: Version, above: str) -> float:
        """Return how many batches of `sub` a sub-recipe line takes.

        Raises RecipeRefused when the line is in grams and the other dish states no batch weight.
        """
        if line.dimension == "batch":
            return line.amount
        if line.dimension == "portion":
            return line.amount / sub.portions
        if sub.batch_weight_g is None:
            raise RecipeRefused(
                f"Found {line.quantity} {line.unit} of dish:{sub.dish} in '{above}'; expected a "
                f"batch_weight_g in version {sub.version} of '{sub.dish}'. Give it there, or take "
                "the line in portions or batches."
            )
        return line.amount / sub.batch_weight_g

    def unfold(self, version: Version, on: date) -> Iterator[tuple[Line, float]]:
        """Yield each ingredient line with how many times it is taken per batch of `version`.

        Sub-recipes are in the version in force on `on`. Raises RecipeRefused on a cycle.
        """
        walked = self._unfold(version, on, 1.0, ())
        for count, line_and_times in enumerate(walked, start=1):
            if count > MOST_LINES:
                raise RecipeRefused(
                    f"Found more than {MOST_LINES:,} lines in '{version.dish}', sub-recipes inside "
                    "sub-recipes counted; expected fewer. Take some ingredients directly."
                )
            yield line_and_times

    def _unfold(
        self, version: Version, on: date, times: float, path: tuple[Version, ...]
    ) -> Iterator[tuple[Line, float]]:
        refuse_path(version, path)
        for line in self.lines.get(version.row, []):
            if line.sub_dish_id is None:
                yield line, times
                continue
            sub, _ = self.in_force(line.sub_dish_id, on)
            batches = times * self.batches_taken(line, sub, version.dish)
            yield from self._unfold(sub, on, batches, (*path, version))

    def dishes_in(self, version: Version, on: date) -> set[int]:
        """Return the ids of the dish and of every dish inside it, in force on `on`."""
        found, new = {version.dish_id}, [version]
        while new:
            lines = self.lines.get(new.pop().row, [])
            inside = {line.sub_dish_id for line in lines if line.sub_dish_id is not None}
            new += [self.in_force(each, on)[0] for each in inside - found]
            found |= inside
        return found

    def per_portion(
        self, version: Version, on: date, *, pantry: bool = True
    ) -> dict[int, float | None]:
        """Return ingredient id → as-purchased quantity per portion, in its base unit.

        None where a fact is missing that would turn a line into the base unit. Without `pantry` the
        lines marked so are left out, those of sub-recipes too.
        """
        batch = self._per_batch(version, on, (), {}, pantry=pantry)
        return {
            each: None if quantity is None else quantity / version.portions
            for each, quantity in batch.items()
        }

    def _per_batch(
        self,
        version: Version,
        on: date,
        path: tuple[Version, ...],
        known: dict[int, dict[int, float | None]],
        *,
        pantry: bool,
    ) -> dict[int, float | None]:
        """As `per_portion`, per batch; a dish that is taken many times is added up once."""
        refuse_path(version, path)
        if version.row in known:
            return known[version.row]
        totals: dict[int, float | None] = {}
        for line in self.lines.get(version.row, []):
            if line.pantry and not pantry:
                continue
            if line.sub_dish_id is None:
                assert line.ingredient_id is not None
                parts: dict[int, float | None] = {line.ingredient_id: line.as_purchased}
                times = 1.0
            else:
                sub, _ = self.in_force(line.sub_dish_id, on)
                times = self.batches_taken(line, sub, version.dish)
                parts = self._per_batch(sub, on, (*path, version), known, pantry=pantry)
            for each, quantity in parts.items():
                before = totals.get(each, 0.0)
                if before is None or quantity is None:
                    totals[each] = None
                else:
                    totals[each] = before + times * quantity
        known[version.row] = totals
        return totals


DEEPEST = 100  # sub-recipes inside sub-recipes; a kitchen has three or four
MOST_LINES = 100_000  # of one costing, unfolded


def refuse_path(version: Version, path: Sequence[Version]) -> None:
    """Raise RecipeRefused when `version` is already among the dishes above it, or is too deep."""
    if len(path) >= DEEPEST:
        raise RecipeRefused(
            f"Found sub-recipes more than {DEEPEST} deep, from '{path[0].dish}' on; expected "
            "fewer. Take the ingredients of some of them directly."
        )
    if any(version.dish_id == above.dish_id for above in path):
        names = " → ".join([*(above.dish for above in path), version.dish])
        raise RecipeRefused(
            f"Found a dish that uses itself: {names}; expected sub-recipes without a circle. "
            "Correct one of these dishes and load it with --replace."
        )


def read_recipes(con: Connection, dish_ids: Collection[int] | None) -> Recipes:
    """Read the dishes (None: all) and every dish they use, each version with its lines."""
    return _read(con, None if dish_ids is None else sorted(dish_ids), None)


def read_dish(con: Connection, name: str) -> tuple[int, Recipes]:
    """Read the dish called `name` and every dish it uses; return its id with them.

    Raises UnknownName with the nearest names.
    """
    recipes = _read(con, [], name_key(name))
    for dish_id, versions in recipes.versions.items():
        if name_key(versions[0].dish) == name_key(name):
            return dish_id, recipes
    dish_id = find_dish(con, name)
    return dish_id, read_recipes(con, [dish_id])


def _read(con: Connection, dish_ids: list[int] | None, name_as_compared: str | None) -> Recipes:
    versions: dict[int, list[Version]] = defaultdict(list)
    version_rows = []
    for row in rows(
        con, "dishes/recipe_versions", {"dishes": dish_ids, "dish_key": name_as_compared}
    ):
        version_rows.append(row["version_row"])
        versions[row["dish_id"]].append(Version(row=row.pop("version_row"), **row))
    lines: dict[int, list[Line]] = defaultdict(list)
    for row in rows(con, "dishes/recipe_lines", {"versions": version_rows}):
        version_row, ingredient, sub_dish = (
            row.pop("version_row"), row.pop("ingredient"), row.pop("sub_dish"),
        )  # fmt: skip
        if row["allergens"] is not None:
            row["allergens"] = tuple(row["allergens"])
        lines[version_row].append(Line(name=ingredient or sub_dish or "", **row))
    return Recipes(versions=dict(versions), lines=dict(lines))


def dish_names(con: Connection) -> dict[str, int]:
    """Return the names of all dishes in the book, as first written, with their ids."""
    found = con.execute("SELECT DISTINCT dish, dish_id FROM dish_version_now ORDER BY dish")
    return dict(found.fetchall())


def find_dish(con: Connection, name: str) -> int:
    """Return the id of the dish called `name`. Raises UnknownName with the nearest names."""
    names = dish_names(con)
    remedy = "" if names else "Load dishes with `portiondrift load dishes FILE`."
    return find(name, names, kind="dish", remedy=remedy)
