"""Recipes of saved pages and JSON files are read as schema.org marks them up.

The pages are written anew after the examples of https://schema.org/Recipe and the properties it
lists; the values wanted are read off them by eye.
"""

from __future__ import annotations

import json
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from ingest.recipe_files.read import read_recipes
from ingest.recipe_files.recipe import ReadRecipe

PIE: dict[str, Any] = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Swede &amp; barley pie",
    "author": {"@type": "Person", "name": "Ida Quill"},
    "url": "https://example.org/swede-pie",
    "datePublished": "2019-02-10T08:30:00+00:00",
    "prepTime": "PT25M",
    "cookTime": "PT1H",
    "recipeYield": ["6", "6 servings"],
    "recipeIngredient": ["200 g pearl barley", "1 &frac12; cups <b>oat milk</b>", "Salt"],
    "recipeInstructions": [
        {"@type": "HowToSection", "itemListElement": [{"@type": "HowToStep", "text": "Boil 2 l."}]}
    ],
}


def page(*blocks: Any, kind: str = "application/ld+json", body: str = "") -> bytes:
    scripts = "".join(
        f'<script type="{kind}">{block if isinstance(block, str) else json.dumps(block)}</script>'
        for block in blocks
    )
    return f"<!DOCTYPE html><html><head>{scripts}</head><body>{body}</body></html>".encode()


def one(data: bytes) -> ReadRecipe:
    read = read_recipes(data, "page.html")
    assert (read.form, read.problems) == ("recipe-page", ())
    (recipe,) = read.recipes
    return recipe


def test_a_page_says_all_of_its_recipe() -> None:
    assert one(page(PIE)) == ReadRecipe(
        title="Swede & barley pie",
        lines=((1, "200 g pearl barley"), (2, "1 ½ cups oat milk"), (3, "Salt")),
        portions=Fraction(6),
        portions_text="6 servings",
        minutes=85,  # 25 + 60
        source="Ida Quill, https://example.org/swede-pie",
        published=date(2019, 2, 10),
    )


@pytest.mark.parametrize(
    "block",
    [
        [PIE],
        {"@graph": [{"@type": "WebSite", "name": "x"}, PIE]},
        {**PIE, "@type": ["NewsArticle", "Recipe"]},
        {**PIE, "@type": "http://schema.org/Recipe"},
        {"@type": "WebPage", "mainEntity": PIE},
        {"@type": "ItemList", "itemListElement": [{"@type": "ListItem", "item": PIE}]},
        f"<!-- {json.dumps(PIE)} -->",
        f"//<![CDATA[\n{json.dumps(PIE)}\n//]]>",
        f"/* <![CDATA[ */{json.dumps(PIE)}/* ]]> */",
        {**{k: v for k, v in PIE.items() if k != "recipeIngredient"},
         "ingredients": PIE["recipeIngredient"]},
    ],
)  # fmt: skip
def test_a_recipe_is_found_wherever_and_however_it_lies(block: Any) -> None:
    assert one(page({"@type": "Organization", "name": "x"}, block)) == one(page(PIE))


def test_the_type_of_a_script_may_be_written_with_an_entity_and_the_file_may_be_json_alone() -> (
    None
):
    assert one(page(PIE, kind="application/ld&#43;json")) == one(page(PIE))
    assert one(json.dumps([PIE]).encode("utf-16")) == one(page(PIE))


def test_a_recipe_that_is_told_twice_is_one_and_two_are_two() -> None:
    assert one(page(PIE, PIE)).title == "Swede & barley pie"
    other = {**PIE, "name": "Samphire tart"}
    read = read_recipes(page({"@graph": [PIE, other]}), "page.html")
    assert [recipe.title for recipe in read.recipes] == ["Swede & barley pie", "Samphire tart"]


@pytest.mark.parametrize(
    ("stated", "portions", "grams"),
    [
        (4, 4, None),
        ("4.0", 4, None),
        (["4", "4 servings"], 4, None),
        (["1 loaf", "8 servings"], 8, None),
        ("Serves 4 to 6", 5, None),  # the middle
        ({"@type": "QuantitativeValue", "value": 4, "unitText": "servings"}, 4, None),
        ({"@type": "QuantitativeValue", "minValue": 4, "maxValue": "8"}, 6, None),
        ({"@type": "QuantitativeValue", "value": "1.2", "unitCode": "KGM"}, None, 1200),
        ("Makes about 500 g", None, 500),
        ("", None, None),
    ],
)
def test_what_it_makes_is_read_in_every_form(stated: Any, portions: int, grams: int) -> None:
    recipe = one(page({**PIE, "recipeYield": stated}))
    assert (recipe.portions, recipe.batch_weight_g) == (portions, grams)


def test_a_middle_that_was_taken_and_a_date_that_was_not_read_are_said() -> None:
    recipe = one(page({**PIE, "recipeYield": "4-6", "datePublished": "last spring"}))
    assert recipe.remarks == (
        "'4-6': the middle is taken, 5",
        "the date 'last spring' is not read",
    )


@pytest.mark.parametrize(
    ("times", "minutes"),
    [
        ({"totalTime": "P0DT45M"}, 45),
        ({"totalTime": "PT1H30M", "prepTime": "PT5M"}, 90),
        ({"prepTime": "PT10M", "cookTime": ""}, 10),
        ({"totalTime": "1 hour 15 min"}, 75),
        ({"totalTime": "PT0M"}, None),
        ({}, None),
    ],
)
def test_its_time_is_from_start_to_end(times: dict[str, str], minutes: int | None) -> None:
    bare = {key: value for key, value in PIE.items() if not key.endswith("Time")}
    assert one(page({**bare, **times})).minutes == minutes


def test_microdata_is_read_with_its_nested_things_and_ends_left_out() -> None:
    body = """<div itemscope itemtype="http://schema.org/Recipe">
      <h2 itemprop="name">Quince <i>cake</i></h2>
      <p itemprop="author" itemscope itemtype="http://schema.org/Person">
        by <a href="/ida"><span itemprop="name">Ida Quill</span></a></p>
      <meta itemprop="datePublished" content="2009-05-08">
      <time datetime="PT15M" itemprop="prepTime">15 minutes</time>
      <span itemprop="recipeYield">1 loaf, serves 8</span>
      <ul><li itemprop="recipeIngredient">3 quinces<li itemprop="recipeIngredient">¾ cup sugar</ul>
      <div itemprop="nutrition" itemscope itemtype="http://schema.org/NutritionInformation">
        <span itemprop="servingSize">2 slices</span></div>
      <p itemprop="ingredients" title="a > b">1 egg</p></div>"""
    recipe = one(page(body=body))
    assert recipe.title == "Quince cake"
    assert recipe.lines == ((1, "3 quinces"), (2, "¾ cup sugar"))
    assert (recipe.portions, recipe.minutes) == (8, 15)
    assert (recipe.source, recipe.published) == ("Ida Quill", date(2009, 5, 8))


def test_headings_between_the_ingredients_are_left_out() -> None:
    lines = ["For the filling:", "1 swede", "For the crust", "200 g flour"]
    assert one(page({**PIE, "recipeIngredient": lines})).lines == (
        (1, "1 swede"),
        (2, "200 g flour"),
    )


def refused(data: bytes) -> str:
    read = read_recipes(data, "page.html")
    assert read.recipes == ()
    (problem,) = read.problems
    return problem.sentence()


def test_a_page_without_a_recipe_is_said_to_be_one() -> None:
    told = refused(page(body="<p>200 g flour</p>"))
    assert told.startswith("found a web page without a recipe in it;")
    assert told.endswith("Copy the recipe's text out of it, and load that.")
    assert refused(b'{"name": "x"}').startswith("found a JSON file without a recipe in it;")


def test_a_page_that_only_lists_recipes_is_said_to_be_one() -> None:
    listed = [{"@type": "Recipe", "name": "Dal"}, {"@type": "Recipe", "name": "Pie"}]
    assert "a web page that names 2 recipes without ingredients" in refused(page(listed))


def test_broken_json_is_said_to_be_broken_with_its_line_unless_the_page_tells_it_again() -> None:
    told = refused(page('\n{"@type": "Recipe",\n "name": "Pie",}'))
    assert told.startswith("line 1: found JSON that is broken: ")
    assert "in its line 3" in told
    assert one(page('{"@type": "Recipe",,}', PIE)).title == "Swede & barley pie"


def test_json_that_is_nested_without_end_is_refused() -> None:
    assert "nested too deep" in refused(b"[" * 1_000_000)
    assert "nested too deep" in refused(page('{"@type":"Recipe","a":' + "[" * 1_000_000))


def test_a_recipe_in_a_language_whose_words_are_not_known_is_said_to_be_one() -> None:
    lines = ["玉ねぎ いっこ", "油 おおさじに"]
    told = refused(page({**PIE, "name": "スープ", "recipeIngredient": lines}))
    assert "'スープ', of whose 2 lines none has an amount that can be read" in told
