"""Recipes typed or pasted as text are read: titles, portions, times, and ingredients alone."""

from __future__ import annotations

from fractions import Fraction
from textwrap import dedent

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ingest.recipe_files.amount import line_amount
from ingest.recipe_files.read import MOST_LINES, read_recipes
from ingest.recipe_files.recipe import ReadRecipe
from ingest.recipes.line import read_recipe_line

TWO = """\
Swede soup
Serves 4–6 | Prep: 10 min | Cook: 1 hour
Source: https://example.org/swede

Ingredients
- 200 g pearl barley
• 2 swedes, sliced
Salt

For the topping:
50 g hard cheese

Method
1. Boil 2 l water with the barley.
2. Add the swedes. Serve hot.

Quince cake (makes 12 slices)

250 g flour
3 eggs
Mix everything in a large bowl until smooth.
Add 2 tbsp sugar to the top and bake for 40 minutes in a hot oven until it is golden brown all over.
"""


def recipes(text: str | bytes) -> list[ReadRecipe]:
    data = text if isinstance(text, bytes) else dedent(text).encode()
    read = read_recipes(data, "typed.txt")
    assert read.problems == ()
    assert read.form == "recipe-text"
    return list(read.recipes)


def test_two_recipes_of_one_text_are_read_line_by_line() -> None:
    soup, cake = recipes(TWO)
    assert soup == ReadRecipe(
        title="Swede soup",
        lines=(
            (6, "- 200 g pearl barley"),
            (7, "• 2 swedes, sliced"),
            (8, "Salt"),
            (11, "50 g hard cheese"),
        ),
        portions=Fraction(5),
        portions_text="Serves 4–6",
        minutes=70,  # 10 + 60
        source="https://example.org/swede",
        remarks=("'Serves 4–6': the middle is taken, 5",),
    )
    assert (cake.title, cake.portions) == ("Quince cake", 12)
    assert cake.lines == ((19, "250 g flour"), (20, "3 eggs"))


@pytest.mark.parametrize("row", ["-----", "= = = =", "***", "____"])
def test_a_row_of_dashes_parts_recipes(row: str) -> None:
    text = f"Tart\n\n1 leek\n2 eggs\n\n{row}\n\nBroth\n\n1 l water\n3 carrots\n"
    assert [(each.title, len(each.lines)) for each in recipes(text)] == [("Tart", 2), ("Broth", 2)]


def test_a_row_under_a_title_or_a_heading_parts_nothing() -> None:
    text = "Tart\n====\nServes 4\n\nIngredients\n---\n1 leek\n2 eggs\n\nMethod\n---\nBake.\n"
    (tart,) = recipes(text)
    assert (tart.title, tart.portions, len(tart.lines)) == ("Tart", 4, 2)


@pytest.mark.parametrize(
    ("head", "end", "portions", "minutes"),
    [
        ("Für 4 Personen\nGesamtzeit: 45 Minuten\nZutaten", "Zubereitung", 4, 45),
        ("Pour 6 personnes\nCuisson : 40 min\nIngrédients :", "Préparation :", 6, 40),
        ("4 porciones\nIngredientes", "Preparación", 4, None),
        ("Dosi per 4 persone\nIngredienti", "Procedimento", 4, None),
        ("Voor 4 personen\nIngrediënten", "Bereiding", 4, None),
        ("Rendimento: 8 porções\nIngredientes", "Modo de preparo", 8, None),
        ("4 porcje\nSkładniki", "Sposób przygotowania", 4, None),
        ("4 portioner\nIngredienser", "Gör så här", 4, None),
        ("Serves four\nIngredients", "Directions", 4, None),
    ],
)
def test_nine_languages_say_portions_and_where_the_ingredients_end(
    head: str, end: str, portions: int, minutes: int | None
) -> None:
    (recipe,) = recipes(f"Titel\n{head}\n500 g rutabaga\n2 dl x\n{end}\nAbc 3 def\n")
    assert [text for _, text in recipe.lines] == ["500 g rutabaga", "2 dl x"]
    assert (recipe.portions, recipe.minutes) == (portions, minutes)


@pytest.mark.parametrize("line", ["500 g Möhren", "1,5 kg pommes", "2 dl śmietany", "3 œufs"])
def test_metric_amounts_and_counts_are_read_in_any_language(line: str) -> None:
    (recipe,) = recipes(f"Titel\n\n{line}\n")
    amount = line_amount(read_recipe_line(recipe.lines[0][1]))
    assert amount is not None
    assert (
        f"{amount.quantity} {amount.unit}"
        == {
            "500 g Möhren": "500 g",
            "1,5 kg pommes": "1.5 kg",
            "2 dl śmietany": "2 dl",
            "3 œufs": "3 each",
        }[line]
    )


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_text_is_read_in_the_encodings_that_editors_save(encoding: str) -> None:
    (recipe,) = recipes("Brûlée\r\n\r\n½ l crème fraîche\r\n3 œufs\r\n".encode(encoding))
    assert recipe.title == "Brûlée"
    assert recipe.lines == ((3, "½ l crème fraîche"), (4, "3 œufs"))


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (b"", "an empty file 'typed.txt'"),
        (b"Leeks\nand barley", "a text of 2 lines without an ingredient and its amount"),
        ("玉ねぎ 1個\n油 大さじ2".encode(), "a text of 2 lines in which no amount"),
        (b"%PDF-1.7", "a PDF"),
        (b"PK\x03\x04", "a workbook, a document or a zip file"),
        (b"\x89PNG\r\n", "a picture"),
        (b"{\\rtf1 200 g flour}", "a text with its layout (RTF)"),
        (b"200 g\x00flour", "bytes that are no text"),
        (b"From: <x>\nContent-Type: multipart/related;\n\n200 g flour", "a web page saved as"),
        (b"x" * (21 * 1024 * 1024), "a file of 21 MB"),
        (b"1 leek\n" * MOST_LINES, f"a text of {MOST_LINES + 1:,} lines"),
        (b"Broth\n\n" + b"1 leek\n" * 501, "'Broth' with 501 ingredients"),
    ],
)  # fmt: skip
def test_what_is_no_recipe_is_named(data: bytes, found: str) -> None:
    read = read_recipes(data, "typed.txt")
    assert read.recipes == ()
    assert [problem.found[: len(found)] for problem in read.problems] == [found]


PIECES = st.sampled_from(
    ["Serves 4", "Method", "200 g flour", "\n", "\n\n", "---", "For the", ":", "½", "1.", " to ",
     "{", "<html>", "itemscope", "<script type=application/ld+json>", '"@type":"Recipe"', "\ud800"]
)  # fmt: skip


@given(st.lists(st.one_of(PIECES, st.text(max_size=8)), max_size=30).map("".join))
def test_no_text_makes_the_reader_fail(text: str) -> None:
    read = read_recipes(text.encode("utf-8", "replace"), "x")
    assert bool(read.recipes) != bool(read.problems)


def test_portions_behind_a_sentence_are_read_and_it_is_no_ingredient() -> None:
    (rice,) = recipes("TOMATO RICE\nAn invented dish. Serves 4\n\n200 g rice\n1 onion\n")
    assert (rice.title, rice.portions) == ("TOMATO RICE", 4)
    assert [text for _, text in rice.lines] == ["200 g rice", "1 onion"]


NOTED = """\
Onion pie
Serves 4

For the filling:
500 g onions
You can make the filling a day ahead and keep it in the fridge.
200 ml cream
2 eggs

Bake.
"""


def test_ingredients_go_on_behind_a_note_in_their_paragraph() -> None:
    (pie,) = recipes(NOTED)
    assert pie.lines == ((5, "500 g onions"), (7, "200 ml cream"), (8, "2 eggs"))
    assert pie.remarks == ()


def test_a_part_headed_behind_a_note_is_read() -> None:
    (pie,) = recipes(
        "Tart\nServes 2\n\n200 g flour\n\nThis keeps in the fridge for some days.\n\n"
        "For the sauce:\n200 ml cream\n"
    )
    assert [line for _, line in pie.lines] == ["200 g flour", "200 ml cream"]


def test_amounts_below_what_is_done_are_named_and_not_read() -> None:
    (pie,) = recipes(
        "Tart\nServes 2\n\n200 g flour\n\nRub it and bake it until it is golden.\n\n200 ml cream\n"
    )
    assert [line for _, line in pie.lines] == ["200 g flour"]
    assert pie.remarks == (
        "1 line below what is done not read as ingredients: line 8 '200 ml cream'. If they are "
        "ingredients, move them above it.",
    )


def test_a_long_ingredient_is_one() -> None:
    """A line of 260 characters without a sentence, and the one behind it."""
    long = "50 g " + "very " * 50 + "long name butter"
    (cake,) = recipes(f"Cake\nServes 2\n\n200 g flour\n{long}\n20 g sugar\n")
    assert [line for _, line in cake.lines] == ["200 g flour", long, "20 g sugar"]


def test_an_amount_behind_a_dash_and_an_oven_line() -> None:
    (bake,) = recipes(
        "Bake\nfor 6\n\nleeks - 3 big ones (about 700g)\ncarrots - 2 large\n150 g cheese\n"
        "bake 200C 25min\n"
    )
    read = [read_recipe_line(line) for _, line in bake.lines]
    assert [(each.item, each.quantity, each.unit) for each in read] == [
        ("leeks", 700, "g"), ("carrots", 2, "each"), ("cheese", 150, "g"),
    ]  # fmt: skip
