"""Runs a page without a browser, reads what it says, and fills its fields."""

from __future__ import annotations

from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Table

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


def table(app: AppTest, alt: str) -> Table:
    """Return the only table whose name, as it is read aloud, begins with `alt`."""
    (found,) = (each for each in app.table if each.proto.alt.startswith(alt))
    return found


def cells(app: AppTest, which: int | str = 0) -> list[dict[str, str]]:
    """Return the rows of a table, by its place or by how its name begins."""
    found = app.table[which] if isinstance(which, int) else table(app, which)
    shown = found.value.map(
        lambda cell: str(cell).replace("\\", "").replace("\u00a0", " ").replace("\u2011", "-")
    )
    rows: list[dict[str, str]] = shown.to_dict("records")
    return rows
