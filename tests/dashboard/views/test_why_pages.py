"""The pages that say why costs changed, without a browser."""

from __future__ import annotations

from streamlit.testing.v1 import AppTest

from dashboard.words.inflation import NO_INDEX
from pricing.book.connect import Book
from tests.dashboard.views.reading import cells, figures, page, part, words
from tests.kitchen import TODAY, load


def test_then_and_now_starts_at_the_first_printed_figure(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl")
    assert not app.exception
    assert figures(app) == {
        "Cost per portion": "$0.50", "Then": "$0.40",
        "As printed, today": "$0.65", "Now": "$0.50", "Change": "+$0.10",
        "By prices": "+$0.25", "By the recipe": "−$0.15",
    }  # fmt: skip
    assert "less leek (−$0.15)" in words(app)
    names = ("The four corners", "What each ingredient did", "The old cost moved")
    assert [len(cells(app, name)) for name in names] == [2, 2, 3]


def test_two_dates_and_versions_can_be_chosen(kitchen: Book) -> None:
    app = page("dishes", dish="barley bowl")
    app.selectbox("version").select("1").run()
    # the old recipe at November's prices
    assert figures(app)["Version 1 as printed, today"] == "$0.65"
    assert figures(app)["By the recipe"] == "$0.00"
    app.date_input("on").set_value(TODAY.replace(month=6, day=20)).run()
    assert figures(app)["Change"] == "$0.00"


def test_dates_and_versions_of_the_address_are_those_compared(kitchen: Book) -> None:
    app = page(
        "dishes", dish="barley bowl", then="2026-11-24", then_version="1",
        on="2026-11-24", version="2",
    )  # fmt: skip
    # the same prices: 0.65 to 0.50, all by the recipe
    assert figures(app)["By prices"] == "$0.00"
    assert figures(app)["By the recipe"] == "−$0.15"


def test_another_dish_starts_at_its_own_first_day(kitchen: Book) -> None:
    app = page("dishes", dish="saffron barley", then_version="2")  # it has no version 2
    assert not app.exception
    # 100 g of barley a portion; saffron has no price
    assert figures(app)["Now"] == "$0.20"
    assert app.selectbox("then_version").value == "1"
    assert "All figures are without saffron" in words(app)
    assert "Without saffron: No price of saffron is in the book." in words(app)


def test_why_is_a_section_of_a_dish_and_the_rest_are_parts_of_a_room(kitchen: Book) -> None:
    assert "[Why](#why)" in words(page("dishes", dish="barley bowl"))
    app = page("dishes")
    (control,) = (each for each in app.get("button_group") if each.key == "part")
    assert list(control.options) == [
        "All dishes", "What moved the cost", "Kitchen inflation", "Swaps", "Test bench", "New dish",
    ]  # fmt: skip
    assert figures(part(app, "drivers"))["Mean cost now"] == "$0.40"  # 0.50, 0.50 and 0.20
    assert app.query_params["part"] == "drivers"


def press(app: AppTest, label: str) -> AppTest:
    (button,) = (button for button in app.button if button.label == label)
    return button.click().run()


def test_printed_figures_are_told_by_words_and_symbol(kitchen: Book) -> None:
    app = page("print")
    assert not app.exception
    # version 1 costs 0.65 now, 62.5 % more than the 0.40 printed (and right) in June
    (row,) = cells(app, "Figures in force")
    assert (row["Then"], row["Now"]) == ("✓ agrees", "↕ stale")
    assert (row["Printed"], row["Cost then"], row["Costs now"]) == ("$0.40", "$0.40", "$0.65")
    assert row["Off now"] == "+62.5 %"
    assert "dishes?dish=barley%20bowl&then=2026-06-15&then_version=1" in row["Dish"]
    assert figures(app) == {
        "✓ holds": "0", "↕ stale": "1", "✗ differs": "0", "? cannot price": "0",
    }  # fmt: skip
    assert "1 figure off by more than 5 %." in words(app)
    assert "Published prices fall under local law" in words(app)


def test_a_figure_that_a_later_one_replaced_stands_apart(kitchen: Book) -> None:
    load(kitchen, "printed", "dish,version,published_on,cost_per_portion,currency\n"
         "barley bowl,2,2026-11-20,about 0.50,USD\nbarley bowl,2,2027-01-20,0.51,USD")  # fmt: skip
    app = page("print")
    force, superseded = cells(app, "Figures in force"), cells(app, "Superseded figures")
    # the issue of January is not out yet, so that it replaces nothing
    assert [row["Printed"] for row in force] == ["$0.51", "$0.50 (“about 0.50”)"]
    assert "not out yet" in force[0]["Published"]
    (row,) = superseded
    assert (row["Printed"], row["Replaced on"].replace("\u2011", "-")) == ("$0.40", "2026-11-20")


def test_a_wider_tolerance_lets_a_figure_hold(kitchen: Book) -> None:
    app = page("print")
    app.number_input("tolerance").set_value(63.0).run()
    assert cells(app, "Figures in force")[0]["Now"] == "✓ holds"
    assert "Nothing to correct within this tolerance." in words(app)


def test_a_figure_is_recorded_and_a_later_price_shows_what_we_said_and_know(kitchen: Book) -> None:
    app = page("print", part="record", dish="barley bowl")
    app.text_input("published_where").set_value("Slate 12").run()
    assert "barley bowl, version 2: $0.50 a portion" in words(app)
    press(app, "Record this figure")
    assert "Recorded $0.50 a portion of barley bowl, version 2" in words(app)
    # 0.50 of today replaces the 0.40 of June, which is stale
    app = part(app, "figures")
    force, superseded = cells(app, "Figures in force"), cells(app, "Superseded figures")
    assert [row["Now"] for row in (*force, *superseded)] == ["✓ holds", "↕ stale"]
    assert "Nothing behind it has changed" in words(part(app, "said"))
    load(kitchen, "prices", "ingredient,date,price,currency,pack,supplier\n"
         "leek,2026-11-24,5.00,USD,1 kg,Salt Lane")  # fmt: skip
    app = page("print", part="said", dish="barley bowl")
    said = figures(app)
    # leek 100 g at 0.005 = 0.50 and barley 0.20 a portion
    assert (said["What we said"], said["What we know now"]) == ("$0.50", "$0.70")
    assert said["Difference"] == "+$0.20"
    (changed,) = cells(app, "What changed behind the figure of barley bowl")
    assert changed["What we said"] == "100 g, $0.30, seen"
    assert changed["What we know now"] == "100 g, $0.50, seen"
    kept = app.dataframe[0].value
    assert list(kept["Price"]) == ["$3.00", "$2.00"]  # leek and barley, as they were then


def test_a_recorded_figure_can_be_taken_back(kitchen: Book) -> None:
    app = press(page("print", part="record", dish="barley bowl"), "Record this figure")
    app.button("take_back").click().run()
    assert "Taken back" in words(app)
    assert len(cells(part(app, "figures"), "Figures in force")) == 1
    assert "No figure here has kept evidence yet" in words(part(app, "said"))


def test_a_figure_that_is_only_at_least_is_not_recorded(kitchen: Book) -> None:
    app = page("print", part="record", dish="saffron barley")
    (button,) = (button for button in app.button if button.label == "Record this figure")
    assert button.disabled
    assert "a figure that is only at least is not published" in words(app)
    said = words(part(app, "figures"))
    assert "The book holds no printed figure of saffron barley yet" in said


def test_drivers_are_ranked_with_what_stands_behind_them(kitchen: Book) -> None:
    app = page("drivers", then="2026-06-15", on="2026-11-24", of="barley bowl")
    assert not app.exception
    assert figures(app) == {
        "Mean cost then": "$0.40", "Mean cost now": "$0.50", "By prices": "+$0.25",
        "By recipes": "−$0.15",
    }  # fmt: skip
    barley, leek = cells(app, "Ingredients by what they added")
    # barley 100 g × 0.001 = 0.10; leek +0.15 by price and −0.15 by recipe
    columns = ("Change", "By price", "By recipe")
    assert [barley[each] for each in columns] == ["+$0.100", "+$0.100", "—"]
    assert [leek[each] for each in columns] == ["—", "+$0.150", "−$0.150"]
    # leek names no series: food at home, the last rung, hardly moved (321.631 in June, 321.500 in
    # August, its last month)
    assert (leek["Price"], leek["Official"], leek["Dishes"]) == ("+50 %", "—", "1")
    assert leek["Share now"] == "60 %"  # 0.30 of 0.50


def test_drivers_of_all_dishes_name_what_is_not_complete(kitchen: Book) -> None:
    app = page("drivers", then="2026-06-15")
    assert "the mean over 3 dishes" in words(app)
    assert "Without saffron in 1 dish: No price of saffron is in the book." in words(app)
    assert "Not complete, for that: saffron barley." in words(app)


def test_what_if_tells_what_a_price_does_to_every_dish(kitchen: Book) -> None:
    app = page("ingredients", part="what-if")
    app.multiselect("moved").select("leek").run()
    app.number_input("by leek").set_value(50.0).run()
    rows = {row["Dish"].split("]")[0][1:]: row for row in cells(app, "Every dish with and without")}
    # leek is 0.30 of the bowl's 0.50: half as much again is +0.15
    assert (rows["barley bowl"]["Would cost"], rows["barley bowl"]["in %"]) == ("$0.65", "+30 %")
    assert rows["saffron barley"]["Change"] == "—"
    said = words(app)
    assert "If leek rose by 50 % from the prices of 24 November 2026, 2 of 3 dishes" in said
    # two bowls (the supper is one) and 0.20 of barley: (0.50 + 0.50 + 0.20) ÷ 3, then 1.50 ÷ 3
    assert "would go from $0.40 to $0.50 (+$0.10)" in said
    app.number_input("by leek").set_value(-1.0).run()
    rows = {row["Dish"].split("]")[0][1:]: row for row in cells(app, "Every dish with and without")}
    # a hundredth of 0.30: three tenths of a cent
    assert (rows["barley bowl"]["Change"], rows["barley bowl"]["in %"]) == ("−$0.003", "−0.6 %")


def test_the_kitchens_own_index_stands_beside_the_official_ones(kitchen: Book) -> None:
    app = page("inflation")
    assert not app.exception
    # one portion of each, recipes of June: bowl and supper 0.40 each and saffron barley 0.10 of
    # barley; in November 0.65, 0.65 and 0.20: 1.50 ÷ 0.90
    assert figures(app)["This kitchen"] == "166.7"
    assert "Food prices, August 2026" in figures(app)  # the last month that the series has
    (laspeyres, paasche, fisher, _) = cells(app, "Formulas")
    # the recipes of November: 0.50 + 0.50 + 0.20 now, 0.30 + 0.30 + 0.10 at June's prices
    assert (laspeyres["Index"], paasche["Index"]) == ("166.7", "171.4")
    assert fisher["Index"] == "169.0"  # the root of 166.67 × 171.43
    assert "Left out of every month, so that all compare: saffron (6 months without a price)" in (
        words(app)
    )
    dishes = {
        row["Dish"].replace("[", "").replace("](dishes?dish=", " (").partition(" (")[0]: row
        for row in cells(app, "By dish")
    }
    # 0.25, 0.25 and 0.10 of 0.90
    assert dishes["barley bowl"]["Points"] == "+27.8"
    assert dishes["saffron barley"]["Points"] == "+11.1"
    assert dishes["saffron barley"]["Dish"].endswith(
        "(dishes?dish=saffron%20barley) (not complete)"
    )
    leek, barley = sorted(cells(app, "By ingredient"), key=lambda row: row["Ingredient"])
    assert barley["Ingredient"].startswith("[pearl barley](ingredients?ingredient=")
    # one product of each at one shop: barley 1.00 to 2.00, leek 2.00 to 3.00 a kg
    assert (barley["Matched products"], leek["Matched products"]) == ("200.0 (1)", "150.0 (1)")
    # barley 0.10 in each of three dishes, twice as much now; leek 0.30 in two, half as much again
    assert (leek["Points"], barley["Points"]) == ("+33.33", "+33.33")


def test_too_short_a_time_for_an_index_is_a_sentence(kitchen: Book) -> None:
    app = page("inflation", then="2026-11-01")
    assert not app.exception
    assert "expected two at least" in words(app)


def test_an_index_of_one_dish_without_a_price_says_what_to_do(kitchen: Book) -> None:
    tea = "dish,version,effective_from,portions,ingredient,quantity,unit\n"
    load(kitchen, "dishes", f"{tea}saffron tea,1,2026-05-01,1,saffron,1,g")
    app = page("inflation", of="saffron tea", then="2026-05-01")
    assert not app.exception
    assert NO_INDEX in words(app)
