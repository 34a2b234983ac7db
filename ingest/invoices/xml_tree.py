"""Parses XML from elsewhere within stated limits: no document types, no entities, so much of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from xml.etree.ElementTree import ParseError, TreeBuilder

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from pricing.errors import Problem

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

LARGEST_XML = 200 * 1024 * 1024  # bytes; an invoice may carry pictures and PDFs as text
MOST_ELEMENTS = 1_000_000  # some 25,000 lines of an invoice
DEEPEST = 100  # elements within each other
_PIECE = 1024 * 1024  # bytes parsed at a time: what is too much ends there


class NoInvoice(Exception):
    """A file from which no invoice can be read."""

    def __init__(self, found: str, expected: str, remedy: str) -> None:
        super().__init__(found)
        self.problem = Problem(
            line=None, column=None, found=found, expected=expected, remedy=remedy
        )


def parse(data: bytes) -> Element:
    """Return the outermost element. Raises NoInvoice."""
    if len(data) > LARGEST_XML:
        raise too_large(len(data))
    target = _Counting()
    parser = DefusedXMLParser(target=target, forbid_dtd=True)
    try:
        for start in range(0, len(data), _PIECE):
            parser.feed(data[start : start + _PIECE])
        root: Element = parser.close()
        return root
    except DefusedXmlException:
        raise NoInvoice(
            "XML with a document type or entities of its own, by which a file can grow without end",
            "plain XML",
            "An invoice has none; ask the sender for the file itself.",
        ) from None
    except ParseError as error:
        line, column = error.position
        raise NoInvoice(
            f"XML that breaks off or is damaged at line {line}, column {column + 1}",
            "a whole XML file",
            "Download it again, or ask the sender for it.",
        ) from None
    except (LookupError, ValueError):  # an encoding that is not known
        raise NoInvoice(
            "XML in an encoding that cannot be read",
            "UTF-8",
            "Ask the sender for the file in UTF-8.",
        ) from None


def too_large(size: int) -> NoInvoice:
    """Return the error of XML of `size` bytes, over the limit."""
    return NoInvoice(
        f"XML of {size // (1024 * 1024)} MB",
        f"at most {LARGEST_XML // (1024 * 1024)} MB",
        "Check that it is an invoice.",
    )


class _Counting(TreeBuilder):
    """Builds the tree and stops at what no invoice needs."""

    def __init__(self) -> None:
        super().__init__()
        self._many = self._depth = 0

    def start(self, tag: Any, attrs: Any, /) -> Any:
        self._many += 1
        self._depth += 1
        if self._many > MOST_ELEMENTS:
            raise NoInvoice(
                f"XML of more than {MOST_ELEMENTS:,} elements",
                "an invoice",
                "Check which file it is.",
            )
        if self._depth > DEEPEST:
            raise NoInvoice(
                f"XML with more than {DEEPEST} elements within each other",
                "an invoice",
                "Check which file it is.",
            )
        return super().start(tag, attrs)

    def end(self, tag: Any, /) -> Any:
        self._depth -= 1
        return super().end(tag)
