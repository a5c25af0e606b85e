"""Stopping a long search from outside: whoever waits for it says when it may end with what it has."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_STOP: ContextVar[Callable[[], bool] | None] = ContextVar("stop", default=None)


@contextmanager
def stopping(when: Callable[[], bool]) -> Iterator[None]:
    """Within this block searches of this thread ask `when` now and then, and end with what they have once it is True.

    `when` is called on the thread that searches, often, and must not block. An answer that was ended says that it is
    not proven.
    """
    token = _STOP.set(when)
    try:
        yield
    finally:
        _STOP.reset(token)


def asked_to_stop() -> bool:
    """True once the block this runs in has been told to stop."""
    when = _STOP.get()
    return when is not None and when()
