"""The command that opens the dashboard."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from dashboard.terminal.options import Port
from dashboard.terminal.output import the_book
from pricing.errors import InputRefused


def serve(
    port: Port = 8501,
    share: Annotated[
        bool,
        typer.Option("--share", help="Also let a phone on this network log prices, by a code."),
    ] = False,
    certificate: Annotated[
        Path | None, typer.Option("--certificate", help="Encrypts what is shared: a PEM file.")
    ] = None,
    key: Annotated[
        Path | None, typer.Option("--key", help="The certificate's key: a PEM file.")
    ] = None,
) -> None:
    """Open the web dashboard on this computer; with --share, a phone's room on this network."""
    from dashboard.terminal.server import serve as run
    from dashboard.terminal.share import certificate_of, shared

    book = the_book().path
    encrypted_by = certificate_of(certificate, key)
    if not share:
        if encrypted_by:
            raise InputRefused("Found a certificate without --share; expected both. Add --share.")
        run(book, port)
        return
    run(book, port, beside=lambda: shared(book, port + 1, encrypted_by))
