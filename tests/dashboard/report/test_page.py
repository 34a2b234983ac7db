"""The page of a report and of a card: HTML without a parse error, and legible in every look."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib
import pytest

from dashboard.report import html
from pricing.book.connect import Book
from tests.dashboard.charts.test_colours import contrast
from tests.kitchen import make_book
from tests.terminal import run

ODD = "salt & <pepper> \"crushed\" 'fine'"


@pytest.fixture
def odd_book(tmp_path: Path) -> Book:
    name = ODD.replace('"', '""')
    return make_book(
        tmp_path,
        {
            "ingredients": f'ingredient,base\n"{name}",g\n',
            "dishes": "dish,version,effective_from,portions,ingredient,quantity,unit\n"
            f'"{name} pie",1,2026-01-01,2,"{name}",100,g\n',
            "prices": "ingredient,date,price,currency,pack,supplier\n"
            f'"{name}",2026-11-20,2.00,USD,1 kg,"Shop & <Sons>"\n',
            "printed": "dish,version,published_on,cost_per_portion,currency,where\n"
            f'"{name} pie",1,2026-02-01,0.30,USD,"<b>Sheet</b> no. 1"\n',
        },
    )


@pytest.mark.parametrize("command", [["report"], ["card", f"{ODD} pie"]], ids=["report", "card"])
def test_a_parser_of_the_standard_finds_no_error(
    odd_book: Book, tmp_path: Path, command: list[str]
) -> None:
    """html5lib follows the parsing rules of the HTML standard (html.spec.whatwg.org, 13.2)."""
    path = tmp_path / "page.html"
    done = run(*command, "--out", str(path), book=odd_book.path)
    assert done.returncode == 0, done.stderr
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)  # raises at an error
    page = parser.parse(path.read_text("utf-8"))
    assert page.find("head/title").text
    assert page.find("body//h1").text
    assert ODD in "".join(page.itertext())
    assert page.get("lang") == "en"


def looks() -> list[dict[str, str]]:
    """Return the colours of the page by name: light, dark, and on paper."""
    css = Path(html.__file__).with_name("page.css").read_text("utf-8")
    found = [
        dict(re.findall(r"--(\w+):\s*(#[0-9a-f]+)", each))
        for each in re.findall(r":root \{([^}]*)\}", css)
    ]
    assert [sorted(each) for each in found] == [["a", "b", "c", "ink", "paper", "rule", "soft"]] * 3
    return found


@pytest.mark.parametrize("look", [0, 1, 2], ids=["light", "dark", "paper"])
def test_words_and_lines_stand_out(look: int) -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1 for words; the names of lines are words in their colours."""
    colours = {name: full(each) for name, each in looks()[look].items()}
    for name in ("ink", "soft", "a", "b", "c"):
        assert contrast(colours[name], colours["paper"]) >= 4.5, name


def full(colour: str) -> str:
    """Return a colour of three digits with six.

    >>> full("#fa0"), full("#2f2d2b")
    ('#ffaa00', '#2f2d2b')
    """
    return colour if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:])
