"""Who may enter the phone's room: a code that is used once, then a session."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum

CODE_DIGITS = 8
WRONG_TRIES = 10
REFUSED_SECONDS = 600.0
SESSION_SECONDS = 12 * 3600.0


class Entered(Enum):
    """What came of a code that was typed."""

    RIGHT = "right"
    WRONG = "wrong"
    REFUSED = "refused"  # too many were wrong: even the right one is not looked at


@dataclass(kw_only=True)
class Session:
    """One phone that was let in."""

    until: float  # seconds of the gate's clock
    said: str = ""  # what came of the last thing stored; shown once
    load: int | None = None  # that it stored, which can be taken back


@dataclass(kw_only=True)
class Gate:
    """The code that is good now, and the sessions it opened. One for each process."""

    tell: Callable[[str], None]  # told each code, the first one too
    clock: Callable[[], float] = time.monotonic
    _code: str = ""
    _wrong: int = 0
    _refused_until: float = 0.0
    _sessions: dict[str, Session] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._new_code()

    def enter(self, typed: str) -> tuple[Entered, str | None]:
        """Return what came of a code, and the secret of the new session if it was right.

        A right code is used up, and a new one is told. After ten wrong ones nothing is let in for
        ten minutes.
        """
        now = self.clock()
        if now < self._refused_until:
            return Entered.REFUSED, None
        digits = "".join(typed.split())
        if not secrets.compare_digest(digits.encode(), self._code.encode()):
            self._wrong += 1
            if self._wrong >= WRONG_TRIES:
                self._wrong, self._refused_until = 0, now + REFUSED_SECONDS
                return Entered.REFUSED, None
            return Entered.WRONG, None
        self._wrong = 0
        self._new_code()
        secret = secrets.token_urlsafe(32)
        self._sessions[secret] = Session(until=now + SESSION_SECONDS)
        return Entered.RIGHT, secret

    def session(self, secret: str | None) -> Session | None:
        """Return the session of a secret; None where there is none, or it is over."""
        found, now = None, self.clock()
        for known, each in list(self._sessions.items()):
            if now >= each.until:
                del self._sessions[known]
            elif secrets.compare_digest(known.encode(), (secret or "").encode()):
                found = each
        return found

    def _new_code(self) -> None:
        self._code = "".join(secrets.choice("0123456789") for _ in range(CODE_DIGITS))
        self.tell(f"{self._code[:4]} {self._code[4:]}")
