"""One version of a dish by hand: the checks of a dishes file, and its cost before it is stored."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed
from datetime import date

from ingest.kinds import dishes
from ingest.kinds.checked import Checked, Options
from ingest.kinds.dish_lines import DishLine, read_line
from ingest.kinds.kitchen import Kitchen
from ingest.one_file import Incoming, take
from ingest.problem_codes import Code
from ingest.report import FileReport
from ingest.text.columns import TABLES
from ingest.text.csv_text import RawRow, Sheet
from ingest.text.read_file import ReadFile, read_columns
from ingest.text.rows import Row
from pricing.book.append import BY_HAND
from pricing.book.connect import Book, Connection, reading
from pricing.book.read import read_settings
from pricing.dishes.cost import DishCost
from pricing.dishes.cost_lines import PricesKept
from pricing.dishes.given import GivenLine, GivenVersion, cost_given
from pricing.errors import Problem, RecipeRefused
from pricing.prices.asked_rule import Filters, asked_rule
from pricing.prices.price_line import CostLine

_NAMES = tuple(column.name for column in TABLES["dishes"])
LINE = ("ingredient", "quantity", "unit", "state", "yield_pct", "pantry", "note")
HEAD = tuple(name for name in _NAMES if name not in LINE)
Texts = Mapping[str, str]  # by column of a dishes file; what is left out or blank says nothing

_NO_LINES = Problem(
    line=None,
    column="ingredient",
    found="a dish without lines",
    expected="an ingredient and how much of it, at least once",
    remedy="Add a line.",
)


@dataclass(frozen=True, kw_only=True)
class CostAsked:
    """On which days a version is costed, and by whose prices."""

    days: Sequence[date]
    whose: Filters = field(default_factory=Filters)
    kept: PricesKept | None = None  # of earlier costings in the same state of the book


@dataclass(frozen=True, kw_only=True)
class DishPreview:
    """What a version would be, before it is stored. A problem's line is that of the recipe."""

    problems: tuple[Problem, ...]  # line 1 is the first of the recipe; None: the dish itself
    remarks: tuple[str, ...]
    costs: tuple[DishCost | None, ...]  # on each day asked for; None: nothing can be costed
    lines: tuple[Mapping[int, CostLine], ...]  # the same days: line of the recipe → its cost
    already: bool = False  # the book holds this very version


def add_dish(
    book: Book,
    head: Texts,
    lines: Sequence[Texts],
    *,
    today: date,
    dry_run: bool = False,
    replace: bool = False,
) -> FileReport:
    """Store one version: `head` and each line are texts named as the columns of a dishes file.

    Blank lines are left out. A problem's line counts those given, from 1, and is None where it is
    the dish itself. `replace` lets it take the place of the same version with another recipe.
    Raises BookUnreadable.
    """
    read = _read(head, lines)
    if read is None:
        return FileReport.refused(BY_HAND, [_NO_LINES])
    file = Incoming(
        shown=BY_HAND, name=BY_HAND, data=_as_csv(read.sheet), numbered=False, read=read
    )
    options = Options(today=today, replace=replace)
    report = take(book, "dishes", file, options, dry_run=dry_run, skip_bad=False)
    return changed(report, problems=tuple(_placed(report.problems, read)))


def preview_dish(
    book: Book,
    head: Texts,
    lines: Sequence[Texts],
    *,
    options: Options,
    asked: CostAsked,
) -> DishPreview:
    """Return what is wrong with a version, and what it would cost on days. Stores nothing.

    Lines that cannot be read are left out of the cost, which then is "at least".
    """
    days = asked.days
    nothing: tuple[Mapping[int, CostLine], ...] = tuple({} for _ in days)
    read = _read(head, lines)
    if read is None:
        return DishPreview(
            problems=(_NO_LINES,), remarks=(), costs=(None,) * len(days), lines=nothing
        )
    with reading(book) as con:
        checked = dishes.check(con, read.rows, read.heading, options)
        problems = tuple(_placed([*read.problems, *checked.problems], read))
        costs: list[DishCost] = []
        places, given = _given(Kitchen(con), read.rows, options.today)
        if given is not None:
            try:
                costs = _costs(con, given, asked)
            except RecipeRefused:  # the problems say what is wrong with a line
                costs = []
    return DishPreview(
        problems=problems,
        remarks=tuple(checked.remarks),
        costs=tuple(costs) or (None,) * len(days),
        lines=tuple(dict(zip(places, each.lines, strict=True)) for each in costs) or nothing,
        already=not problems and checked.added == 0,
    )


def _costs(con: Connection, given: GivenVersion, asked: CostAsked) -> list[DishCost]:
    rule = asked_rule(con, read_settings(con), **asked.whose)
    return cost_given(con, rule, given, asked.days, asked.kept)


def _read(head: Texts, lines: Sequence[Texts]) -> ReadFile | None:
    """Return the version as rows of a dishes file; None where no line says anything."""
    rows = []
    for place, line in enumerate(lines, start=1):
        if not any(line.get(name, "").strip() for name in ("ingredient", "quantity", "unit")):
            continue
        texts = {**head, **{name: line.get(name, "") for name in LINE}}
        cells = tuple(texts.get(name, "").strip() for name in _NAMES)
        rows.append(RawRow(line=place, raw=_row(cells), cells=cells))
    if not rows:
        return None
    header = RawRow(line=0, raw=",".join(_NAMES), cells=_NAMES)
    read = read_columns("dishes", Sheet(header=header, rows=tuple(rows)))
    if not isinstance(read, ReadFile):  # our own heading is one that can be read
        raise TypeError(read)
    return read


def _row(cells: Sequence[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(cells)
    return out.getvalue()


def _as_csv(sheet: Sheet) -> bytes:
    return "\n".join([sheet.header.raw, *(row.raw for row in sheet.rows), ""]).encode()


def _placed(problems: Sequence[Problem], read: ReadFile) -> Iterator[Problem]:
    """Yield each problem once: those of the dish, which stand in all its rows, without a line."""
    first = read.rows[0].line
    for problem in problems:
        if problem.column in LINE and not _of_whole_recipe(problem, first):
            yield problem
        elif problem.line in (None, first):
            yield changed(problem, line=None)


def _of_whole_recipe(problem: Problem, first: int) -> bool:
    return problem.code == Code.RECIPE_DIFFERS and problem.line == first


def _given(
    kitchen: Kitchen, rows: Sequence[Row], today: date
) -> tuple[list[int], GivenVersion | None]:
    """Return the version as far as it can be costed, and which of its lines those are."""
    value = rows[0].value
    read = [(row, read_line(row, kitchen, Checked())) for row in rows]
    lines = {
        row.line: given
        for row, line in read
        if line is not None and (given := _given_line(line, kitchen)) is not None
    }
    if value["portions"] is None or not lines:
        return [], None
    return list(lines), GivenVersion(
        dish=value["dish"] or "",
        version=value["version"] or "",
        effective_from=value["effective_from"] or today,
        portions=float(value["portions"]),
        batch_weight_g=None if (w := value["batch_weight_g"]) is None else float(w),
        minutes=None if (m := value["minutes"]) is None else float(m),
        lines=list(lines.values()),
        whole=len(lines) == len(rows),
    )


def _given_line(line: DishLine, kitchen: Kitchen) -> GivenLine | None:
    """Return a line as it is costed; None where its ingredient or dish is not in the book."""
    sub = kitchen.dishes.get(line.sub_key) if line.sub_key else None
    if sub is None and line.ingredient_id is None:
        return None
    value = line.row.value
    return GivenLine(
        ingredient_id=line.ingredient_id,
        sub_dish_id=None if sub is None else sub[0],
        name=value["ingredient"] if sub is None else sub[1],
        quantity=value["quantity"],
        unit=value["unit"],
        amount=line.amount,
        dimension=line.dimension,
        measure_key=line.measure_key,
        state=value["state"] or "as_purchased",
        yield_pct=value["yield_pct"],
        pantry=bool(value["pantry"]),
    )
