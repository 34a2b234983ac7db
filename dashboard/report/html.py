"""Draws a document as one web page: no scripts, nothing from elsewhere, to be read or printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from html import escape
from importlib import resources

from dashboard.report.line_chart import draw_chart
from dashboard.words.document import Document, Section, Table


def draw_html(document: Document) -> str:
    """Return the document as a page in HTML with its style and its charts inside."""
    return "\n".join(_page(document)) + "\n"


def _page(document: Document) -> Iterator[str]:
    yield '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f"<title>{escape(document.title)}</title>\n<style>\n{_style()}</style>\n</head>\n<body>"
    yield f"<header>\n<h1>{escape(document.title)}</h1>"
    yield f'<p class="under">{escape(document.under)}</p>\n</header>\n<main>'
    for section in document.sections:
        yield from _section(section)
    yield "</main>\n</body>\n</html>"


@cache
def _style() -> str:
    return resources.files("dashboard.report").joinpath("page.css").read_text("utf-8")


def _section(section: Section) -> Iterator[str]:
    kinds = [*(["breaks"] if section.breaks else []), *(["dish"] if section.level > 2 else [])]
    yield f'<section class="{" ".join(kinds)}">' if kinds else "<section>"
    yield f"<h{section.level}>{escape(section.title)}</h{section.level}>"
    yield from (f"<p>{escape(each)}</p>" for each in section.says)
    if section.chart is not None:
        yield f"<figure>{draw_chart(section.chart)}</figure>"
    if section.listed:
        yield "<ul>"
        yield from (f"<li>{escape(each)}</li>" for each in section.listed)
        yield "</ul>"
    for table in section.tables:
        yield from _table(table)
    yield "</section>"


def _table(table: Table) -> Iterator[str]:
    label = f' tabindex="0" role="region" aria-label="{escape(table.says)}"' if table.says else ""
    yield f'<div class="wide"{label}>\n<table>'
    if table.says:
        yield f"<caption>{escape(table.says)}</caption>"
    heads = _cells("th", table.headings, table.right, ' scope="col"')
    yield f"<thead><tr>{heads}</tr></thead>\n<tbody>"
    for row in table.rows:
        yield f"<tr>{_cells('td', row, table.right)}</tr>"
    yield "</tbody>\n</table>\n</div>"


def _cells(kind: str, cells: Sequence[str], right: Sequence[int], more: str = "") -> str:
    return "".join(
        f"<{kind}{more}{' class=' + chr(34) + 'right' + chr(34) if at in right else ''}>"
        f"{escape(cell)}</{kind}>"
        for at, cell in enumerate(cells)
    )
