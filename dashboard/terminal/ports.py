"""A port of this computer on which nothing listens."""

from __future__ import annotations

import os
import socket

from pricing.errors import InputRefused

ADDRESS = "127.0.0.1"  # this computer only: a price book has no passwords


def free_port(wanted: int, address: str = ADDRESS) -> int:
    """Return `wanted`, or the next port on which nothing listens. Raises InputRefused."""
    if not 1 <= wanted <= 65535:
        raise InputRefused(
            f"Found port {wanted}; expected a number from 1 to 65535. Give another with --port."
        )
    for port in range(wanted, min(wanted + 100, 65536)):
        with socket.socket() as tried:
            if os.name == "posix":  # a port that was just let go may be taken again
                tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                tried.bind((address, port))
            except OSError:
                continue
            return port
    raise InputRefused(f"Found no free port from {wanted} on. Give another with --port.")
