"""Tells ingredients that stand below a note or the method from what is done, and names the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ingest.recipe_files.headings import heads, is_heading
from ingest.recipe_files.kinds_of_line import begins_with_number, is_ingredient, is_numbered
from ingest.recipe_files.words import any_of
from ingest.text.sentences import counted, quoted

_MOST_NAMED = 5

Line = tuple[int, str]  # number in the text, from 1; without spaces around


@dataclass(kw_only=True)
class Behind:
    """What stands below the end of the ingredients."""

    method: bool = False  # a heading or a numbered step ended them, and no note among them
    note: int | None = None  # the place of a sentence inside the paragraph of ingredients
    part: bool = False  # a heading such as "For the sauce" was the last one
    left: list[Line] = field(default_factory=list)  # look like ingredients, and are not read

    def ended(self, lines: Sequence[Line], at: int) -> None:
        """Take the line that ended the ingredients."""
        line = lines[at][1]
        self.method = heads("method", line) or is_numbered(line)
        self.note = at if at and lines[at - 1][1] and not self.method else None
        self.part = False

    def goes_on(self, lines: Sequence[Line], at: int) -> bool:
        """Tell whether the ingredients go on with a line below their end; keep what is left out."""
        number, line = lines[at]
        if is_heading(line):
            self.part = bool(any_of("part").match(line.strip(" \t#*_")))
            return False
        if not is_ingredient(line) or not begins_with_number(line) or line.endswith("."):
            if self.note is not None and not lines[at - 1][1]:
                self.note = None
            return False
        if not self.method and (self.part or self._in_the_paragraph(lines, at)):
            return True
        if self.part or not self.method:
            self.left.append((number, line))
        return False

    def _in_the_paragraph(self, lines: Sequence[Line], at: int) -> bool:
        return self.note is not None and all(line for _, line in lines[self.note : at])

    def said(self) -> tuple[str, ...]:
        """Name the lines that were left out."""
        if not self.left:
            return ()
        shown = "; ".join(
            f"line {number} {quoted(line)}" for number, line in self.left[:_MOST_NAMED]
        )
        more = "; and others" if self.left[_MOST_NAMED:] else ""
        many = counted(len(self.left), "line")
        return (
            f"{many} below what is done not read as ingredients: {shown}{more}. If they are "
            "ingredients, move them above it.",
        )
