"""Runs a page without a browser, reads what it says, and fills its fields."""

from __future__ import annotations

import json

import pandas as pd
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Element

from dashboard.views.pages import FORMER


def page(name: str, **query: str) -> AppTest:
    """Run the dashboard with one of its rooms in front, or what a former page leads to."""
    name, more = FORMER.get(name, (name, {}))
    query = dict(more) | query

    def script(name: str) -> None:
        from dashboard.app import main

        main(name)

    app = AppTest.from_function(script, kwargs={"name": name}, default_timeout=60)
    for key, value in query.items():
        app.query_params[key] = value
    return app.run()


def words(app: AppTest) -> str:
    """Return everything the page says, without the marks of Markdown."""
    boxes = [*app.markdown, *app.caption, *app.info, *app.warning, *app.success, *app.error]
    return "\n".join(box.value for box in boxes).replace("\\", "").replace("\u00a0", " ")


def figure(app: AppTest) -> str:
    return app.metric[0].value.replace("\\", "")


def fill(app: AppTest, **fields: str) -> AppTest:
    for key, value in fields.items():
        app.text_input(key).set_value(value)
    return app.run()


def press(app: AppTest, label: str) -> AppTest:
    (button,) = (button for button in app.button if button.label == label)
    return button.click().run()


def form(ingredient: str) -> AppTest:
    """Run the form of a price alone, as the bar opens it above every room."""

    def script(ingredient: str) -> None:
        from dashboard.views.book import the_book
        from dashboard.views.enter_price import enter_price
        from dashboard.views.loaders import ingredients_of
        from dashboard.views.outcome import show_outcome
        from dashboard.views.sentences import sentences

        with sentences():
            show_outcome()
            book = the_book()
            enter_price(book, [each.ingredient for each in ingredients_of(book.state)], ingredient)

    return AppTest.from_function(
        script, kwargs={"ingredient": ingredient}, default_timeout=60
    ).run()


def part(app: AppTest, which: str) -> AppTest:
    """Open another part of a room, by its key."""
    (control,) = (each for each in app.get("button_group") if each.key == "part")
    return control.set_value(which).run()


def figures(app: AppTest) -> dict[str, str]:
    return {each.label: each.value.replace("\\", "") for each in app.metric}


class Shown:
    """A table of the page, as it goes to the browser."""

    def __init__(self, element: Element) -> None:
        self.data = json.loads(element.proto.json)
        self.name: str = self.data["name"]

    @property
    def value(self) -> pd.DataFrame:
        """Return the rows in words, a link as Markdown writes it."""
        rows = [
            [
                "".join(f"[{words}]({to})" if to else words for words, to in cell["pieces"])
                for cell in row["cells"]
            ]
            for row in self.data["rows"]
        ]
        names = [column["name"] for column in self.data["columns"]]
        shown = pd.DataFrame(rows, columns=names)
        return shown.map(lambda words: words.replace("\u00a0", " ").replace("\u2011", "-"))


def tables(app: AppTest) -> list[Shown]:
    """Return the tables of the page, from the top."""
    return [Shown(each) for each in app.get("bidi_component")]


def table(app: AppTest, alt: str) -> Shown:
    """Return the only table whose name, as it is read aloud, begins with `alt`."""
    (found,) = (each for each in tables(app) if each.name.startswith(alt))
    return found


def cells(app: AppTest, which: int | str = 0) -> list[dict[str, str]]:
    """Return the rows of a table, by its place or by how its name begins."""
    found = tables(app)[which] if isinstance(which, int) else table(app, which)
    rows: list[dict[str, str]] = found.value.to_dict("records")
    return rows
