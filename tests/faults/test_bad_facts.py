"""Wrong or contradictory facts, measures, swaps, printed figures and series are refused."""

from __future__ import annotations

import pytest

from pricing.book.connect import Book
from tests.kitchen import load
from tests.loading import ask, only, places


@pytest.mark.parametrize("yield_pct", ["0", "130", "100.1", "-5", "76%", "0,76"])
def test_a_yield_outside_0_to_100(book: Book, yield_pct: str) -> None:
    problem = only(load(book, "ingredients", f'ingredient,base,yield_pct\nkale,g,"{yield_pct}"'))
    assert (problem.line, problem.column) == (2, "yield_pct")
    assert problem.expected == "a percentage over 0 and up to 100, written like 1.5"


@pytest.mark.parametrize("base", ["kg", "grams", "G M", "portion"])
def test_an_unknown_base(book: Book, base: str) -> None:
    problem = only(load(book, "ingredients", f"ingredient,base\nkale,{base}"))
    assert (problem.column, problem.expected) == ("base", "one of g, ml, each")


@pytest.mark.parametrize("column", ["density_g_per_ml", "grams_each"])
def test_a_density_or_weight_of_nothing(book: Book, column: str) -> None:
    problem = only(load(book, "ingredients", f"ingredient,base,{column}\nkale,g,0"))
    assert problem.column == column


def test_none_beside_an_allergen(book: Book) -> None:
    problem = only(load(book, "ingredients", "ingredient,base,allergens\nkale,g,none; milk"))
    assert problem.expected == "names of allergens, or 'none' alone"


def test_an_ingredient_called_like_a_sub_recipe(book: Book) -> None:
    problem = only(load(book, "ingredients", "ingredient,base\nDish: stock,g"))
    assert problem.expected == "a name that does not begin with 'dish:'"


def test_one_ingredient_twice_with_different_facts(book: Book) -> None:
    problem = only(
        load(
            book,
            "ingredients",
            """
            ingredient,base,grams_each
            kale,g,
            chard,g,
            Kale,g,250
            """,
        )
    )
    assert (problem.line, problem.column) == (4, "grams_each")
    assert problem.found == "'Kale' again with 250"
    assert problem.expected == "nothing as on line 2"


def test_facts_that_differ_from_the_book_s_are_named_column_by_column(book: Book) -> None:
    report = load(
        book,
        "ingredients",
        """
        ingredient,base,density_g_per_ml,allergens
        whole milk,ml,1.035,milk
        leek,each,,
        """,
    )
    assert [(p.line, p.column, p.found, p.expected) for p in report.problems] == [
        (2, "density_g_per_ml", "1.035", "1.03, as the book has it for 'whole milk'"),
        (3, "base", "'each'", "'g', as the book has it for 'leek'"),
        (3, "allergens", "nothing", "none, as the book has it for 'leek'"),
    ]
    assert "--replace" in report.problems[0].remedy


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("barley,g,", "ingredient"),  # an alias of pearl barley
        ("kale,g,Leeks", "aliases"),  # an alias of leek
        ("kale,g,WHOLE  milk", "aliases"),  # the name of another
    ],
)
def test_a_name_or_alias_that_would_mean_two_ingredients(book: Book, row: str, column: str) -> None:
    problem = only(load(book, "ingredients", f"ingredient,base,aliases\n{row}"))
    assert (problem.line, problem.column) == (2, column)


def test_an_alias_that_two_rows_of_a_file_share(book: Book) -> None:
    report = load(
        book, "ingredients", "ingredient,base,aliases\nkale,g,greens\nchard,g,greens\nbeet,g,kale"
    )
    assert places(report) == [(2, "ingredient"), (2, "aliases"), (3, "aliases"), (4, "aliases")]


def test_new_facts_with_which_a_stored_pack_could_not_be_converted(book: Book) -> None:
    load(book, "prices", "ingredient,date,price,currency,pack\nwhole milk,2024-05-02,4,USD,1 kg")
    report = load(
        book,
        "ingredients",
        "ingredient,base,density_g_per_ml\nwhole milk,ml,",
        replace=True,
    )
    problem = only(report)
    assert (problem.line, problem.column) == (2, "density_g_per_ml")
    assert problem.expected == "facts that serve the prices stored by load 5"


def test_a_new_base_for_which_the_recipes_lack_a_fact(book: Book) -> None:
    """800 g of leek, edible: without its yield and its weight each, neither converts."""
    report = load(
        book, "ingredients", "ingredient,base,grams_each,yield_pct\nleek,each,,", replace=True
    )
    assert {problem.found for problem in report.problems} == {"facts without grams_each"}
    report = load(book, "ingredients", "ingredient,base,yield_pct\nleek,g,", replace=True)
    assert only(report).found == "facts without yield_pct"


def test_a_new_base_that_would_change_what_a_swap_s_ratio_means(book: Book) -> None:
    load(book, "swaps", "ingredient,substitute,ratio\nsyrup,whole milk,1.5")
    report = load(book, "ingredients", "ingredient,base\nsyrup,g", replace=True)
    problem = only(report)
    assert (problem.column, problem.found) == ("base", "'g'")
    assert problem.expected == "'ml', which the ratios of the swaps stored by load 5 are by"


def test_a_measure_of_an_unknown_ingredient_and_one_of_no_weight(book: Book) -> None:
    report = load(book, "measures", "ingredient,measure,grams\nleak,bunch,0\nleek,,5")
    assert places(report) == [(2, "ingredient"), (2, "grams"), (3, "measure")]


def test_a_measure_twice_with_different_grams(book: Book) -> None:
    report = load(book, "measures", "ingredient,measure,grams\negg,tray,1710\neggs,tray,1\n")
    assert places(report) == [(3, "ingredient")]
    problem = only(
        load(book, "measures", "ingredient,measure,grams\negg,tray,1710\nEGG,Tray,1720\n")
    )
    assert (problem.line, problem.found) == (3, "'Tray' again with 1720")


def test_a_measure_that_differs_from_the_book_s(book: Book) -> None:
    problem = only(load(book, "measures", "ingredient,measure,grams\nleek,bunch,600"))
    assert problem.expected == "640, as the book has it for 'bunch of leek'"


def test_swaps_need_two_known_ingredients_and_a_ratio(book: Book) -> None:
    report = load(
        book,
        "swaps",
        """
        ingredient,substitute,ratio
        leek,leak,1
        leek,LEEKS,1
        leek,pearl barley,0
        """,
    )
    assert places(report) == [(2, "substitute"), (3, "substitute"), (4, "ratio")]


def test_a_swap_with_another_ratio_than_the_book_s(book: Book) -> None:
    load(book, "swaps", "ingredient,substitute,ratio,note\nleek,egg,0.02,why not")
    problem = only(load(book, "swaps", "ingredient,substitute,ratio\nleek,egg,0.03"))
    assert (problem.column, problem.found) == ("ratio", "0.03")
    assert problem.expected == "0.02, as the book has it for 'egg for leek'"


def test_printed_figures_need_a_known_dish_and_version_and_an_amount(book: Book) -> None:
    report = load(
        book,
        "printed",
        """
        dish,version,published_on,cost_per_portion,currency
        leek bak,1,2014-01-01,1.20,USD
        leek bake,2,2014-01-01,1.20,USD
        leek bake,1,2014-01-01,2 for 3,USD
        leek bake,1,2014-01-01,0,usx
        """,
    )
    assert places(report) == [
        (2, "dish"),
        (3, "version"),
        (4, "cost_per_portion"),
        (5, "cost_per_portion"),
        (5, "currency"),
    ]
    assert "Nearest: leek bake" in report.problems[0].remedy
    assert report.problems[1].expected == "one of 1"


def test_the_days_and_the_currency_of_a_printed_figure_agree(book: Book) -> None:
    head = "dish,version,published_on,cost_per_portion,currency,costed_on\n"
    report = load(
        book,
        "printed",
        f"{head}leek bake,1,2027-01-01,1.20,USD,2026-11-25\n"
        "leek bake,1,2014-01-01,1.20,USD,2014-01-02\n"
        "leek bake,1,2014-01-01,about £1.20,USD,\n"
        "leek bake,1,2014-01-01,EUR 3,USD,\n",
    )
    assert places(report) == [
        (2, "costed_on"),
        (3, "costed_on"),
        (4, "cost_per_portion"),
        (5, "cost_per_portion"),
    ]
    assert [problem.found for problem in report.problems] == [
        "2026-11-25, which is in the future",
        "2014-01-02, which is after the figure was published",
        "'about £1.20', an amount in £",
        "'EUR 3', an amount in EUR",
    ]
    assert load(book, "printed", f"{head}leek bake,1,2014-01-01,1.20,USD,").added == 1
    again = load(book, "printed", f"{head}leek bake,1,2014-01-01,1.20,USD,2013-12-20")
    assert again.problems[0].found == (
        "2013-12-20, where this figure is held already as costed for 2014-01-01"
    )


@pytest.mark.parametrize(
    ("cells", "column"),
    [
        ("x,2020-13,100,", "month"),
        ("x,2020-01-01,100,", "month"),
        ("x,2020-01,0,", "value"),
        ("x,2020-01,inf,", "value"),
        ("x,2020-01,-3,", "value"),
        ("x,2020-01,100,maybe", "seasonally_adjusted"),
    ],
)
def test_a_row_of_an_index_file_that_cannot_be_read(book: Book, cells: str, column: str) -> None:
    header = "series,month,value,seasonally_adjusted"
    assert only(load(book, "index", f"{header}\n{cells}")).column == column


def test_a_month_of_an_index_that_is_still_to_come(book: Book) -> None:
    # today is 24 November 2026: November has begun, December has not
    found = load(book, "index", "series,month,value\nx,2026-11,100\nx,2026-12,101\nx,2027-01,102")
    assert [(each.line, each.column) for each in found.problems] == [(3, "month"), (4, "month")]
    assert "2026-12 of 'x', which is still to come" in found.problems[0].found
    assert found.problems[0].expected == "months up to 2026-11"
    assert (found.load, found.added) == (None, 0)
    assert load(book, "index", "series,month,value\nx,2026-11,100").added == 1


def test_a_release_before_the_month_of_its_value(book: Book) -> None:
    header = "series,month,value,released_on"
    problem = only(load(book, "index", f"{header}\nx,2020-02,100,2020-01-31"))
    assert (problem.column, problem.found) == (
        "released_on",
        "2020-01-31, before the month 2020-02 of the value",
    )
    assert load(book, "index", f"{header}\nx,2020-02,100,2020-02-01").added == 1


def test_a_month_twice_in_one_release_with_different_values(book: Book) -> None:
    problem = only(
        load(
            book,
            "index",
            """
            series,month,value,released_on
            x,2020-01,100,2020-02-12
            x,2020-01,101,2020-03-12
            x,2020-01,100.5,2020-02-12
            """,
        )
    )
    assert (problem.line, problem.column) == (4, "value")
    assert problem.expected == "100 as on line 2: one value a month and release"


def test_a_value_that_differs_from_the_book_s(book: Book) -> None:
    [(bundled,)] = ask(
        book, "SELECT value FROM series_value WHERE series = 'us-bls:SA0' AND month = '2012-03-01'"
    )
    assert bundled == 229.392  # BLS, CPI-U, all items, U.S. city average, March 2012
    problem = only(load(book, "index", "series,month,value\nus-bls:SA0,2012-03,229.4"))
    assert problem.expected == "229.392, as the book has it without a release date"


def test_titles_that_do_not_agree_within_a_series(book: Book) -> None:
    problem = only(
        load(book, "index", "series,month,value,title\nx,2020-01,1,Tea\nx,2020-02,1,Coffee")
    )
    assert (problem.line, problem.column) == (3, "title")


def test_a_parent_that_differs_from_the_book_s(book: Book) -> None:
    row = "us-bls:SAF11,2026-09,999,us-bls:SA0"
    problem = only(load(book, "index", f"series,month,value,parent\n{row}"))
    assert (problem.column, problem.found) == ("parent", "'us-bls:SA0'")


def test_series_that_are_each_other_s_parents(book: Book) -> None:
    report = load(
        book, "index", "series,month,value,parent\nx,2020-01,1,y\ny,2020-01,1,z\nz,2020-01,1,x"
    )
    assert [(p.line, p.column) for p in report.problems] == [
        (2, "parent"),
        (3, "parent"),
        (4, "parent"),
    ]
    assert report.problems[0].found == "a series that is its own parent: x → y → z → x"
