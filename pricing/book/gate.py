"""The gate before a book's file inside one process: many read at once, or one writes."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager


class Gate:
    """Keeps the readers of this process and its one writer apart.

    Only a writer who is inside holds readers up, never one who waits: a reader may be waiting for
    what another reader, who comes later, is working out, and both would wait for ever. The writer
    may enter again, and read.
    """

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._readers = 0
        self._writer: int | None = None  # its thread
        self._depth = 0

    @contextmanager
    def shared(self) -> Iterator[None]:
        """Be inside with other readers."""
        me = threading.get_ident()
        with self._changed:
            self._changed.wait_for(lambda: self._writer in (None, me))
            self._readers += 1
        try:
            yield
        finally:
            with self._changed:
                self._readers -= 1
                self._changed.notify_all()

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Be the only one inside."""
        me = threading.get_ident()
        with self._changed:
            self._changed.wait_for(
                lambda: self._writer == me or (self._writer is None and not self._readers)
            )
            self._writer, self._depth = me, self._depth + 1
        try:
            yield
        finally:
            with self._changed:
                self._depth -= 1
                if not self._depth:
                    self._writer = None
                self._changed.notify_all()
