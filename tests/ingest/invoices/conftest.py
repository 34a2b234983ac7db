"""The stocked book that these tests load into."""

from tests.loading import _template, book

__all__ = ["_template", "book"]
