"""The window: frame, rail, headline and menus. Import it only where a window is wanted, it loads Qt."""

from __future__ import annotations

from app.window.start import run

__all__ = ["run"]
