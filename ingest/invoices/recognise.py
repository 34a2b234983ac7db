"""Tells by its first bytes whether a file may be an e-invoice, and needs nothing to do so."""

from __future__ import annotations

import codecs
import re

_HEAD = 1024  # bytes in which a file says what it is
_WEB_PAGE = re.compile(r"<(?:!doctype\s+html|html|head|body)\b", re.IGNORECASE)


def is_document(data: bytes) -> bool:
    """Tell whether a file is XML or a PDF, and may hold an e-invoice."""
    return is_pdf(data) or is_xml(data)


def is_pdf(data: bytes) -> bool:
    """Tell whether a file is a PDF."""
    return b"%PDF-" in data[:_HEAD]


def is_xml(data: bytes) -> bool:
    """Tell whether a file is XML, and no web page.

    >>> is_xml(b"<?xml version='1.0'?><Invoice/>"), is_xml(b"<!DOCTYPE html>"), is_xml(b"a,b")
    (True, False, False)
    """
    head = data[:_HEAD]
    if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        text = head.decode("utf-16", "replace")
    else:
        text = head.removeprefix(codecs.BOM_UTF8).decode("latin-1")
    return text.lstrip().startswith("<") and not _WEB_PAGE.search(text)
