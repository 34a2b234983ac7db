"""A version that cannot stand is set aside with all its lines, so that it can be mended whole."""

from __future__ import annotations

from pathlib import Path

from tests.kitchen import load, make_book


def test_the_good_lines_of_a_refused_version_are_set_aside_with_the_bad_one(tmp_path: Path) -> None:
    book = make_book(tmp_path, {"ingredients": "ingredient,base\nleek,g\nrice,g"}, series=())
    report = load(
        book,
        "dishes",
        """
        dish,version,effective_from,portions,ingredient,quantity,unit
        pie,1,2020-01-01,4,leek,400,g
        pie,1,2020-01-01,4,dish:dough,1,batch
        soup,1,2020-01-01,4,rice,100,g
        """,
        skip_bad=True,
    )
    # no dish is called dough: the pie is refused whole, the soup is stored
    assert (report.added, [each.line for each in report.problems]) == (1, [3])
    assert report.refused_text is not None
    _, leek, dough = report.refused_text.splitlines()
    assert leek.startswith("pie,1,2020-01-01,4,leek,400,g,")
    assert dough.startswith("pie,1,2020-01-01,4,dish:dough,1,batch,")
