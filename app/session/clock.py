"""The one place that reads the clock: local time as the text the logbook keeps."""

from __future__ import annotations

from datetime import datetime


def now_text() -> str:
    """Return the local time as ISO text to the minute: "2026-03-14T09:05"."""
    return datetime.now().isoformat(timespec="minutes")


def today_text() -> str:
    """Return the local date as ISO text: "2026-03-14"."""
    return now_text()[:10]
