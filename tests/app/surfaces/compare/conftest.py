"""The window variants are compared in."""

from tests.app.surfaces.real_window import real  # noqa: F401
