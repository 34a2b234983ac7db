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
