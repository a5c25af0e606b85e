"""The window the answers are asked in."""

from tests.app.surfaces.real_window import real  # noqa: F401
