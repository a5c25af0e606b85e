"""The Weigh-out surface of a shown window on the demo, planned by the engine, with a clock and a logbook of its own."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QDeadlineTimer
from PySide6.QtWidgets import QApplication

if TYPE_CHECKING:
    from app.surfaces.weighout import WeighoutSurface
    from app.surfaces.weighout.weigh_row import WeighRow
    from app.window.frame import MainWindow
    from core.recipe.records import Recipe

DATE = "2026-03-14"


class AtTheBench:
    """What the tests do at the bench."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        self.session = window.room.session

    @property
    def surface(self) -> WeighoutSurface:
        """The surface."""
        return self.window.room.surfaces["weighout"]  # type: ignore[return-value]

    @property
    def recipe(self) -> Recipe:
        """The open recipe."""
        assert self.session.recipe is not None
        return self.session.recipe

    def wait(self) -> None:
        """Run the event loop until everything asked for is planned and shown."""
        deadline = QDeadlineTimer(20_000)
        quiet = 0
        while quiet < 3 and not deadline.hasExpired():
            QApplication.processEvents()
            quiet = quiet + 1 if self.session._planner.idle() and self.surface.idle() else 0
        assert quiet == 3

    def row(self, entry_id: str) -> WeighRow:
        """The row of a product."""
        return next(row for row in self.surface.rows() if row.line.item.entry_id == entry_id)

    def now(self) -> str:
        """The product that is the large one; nothing when all is weighed."""
        line = self.surface.now.line()
        return "" if line is None else line.item.entry_id

    def all_in(self, press: Callable[[], None]) -> None:
        """Press once for every weight, faster than anything is worked out."""
        for _row in self.surface.rows():
            press()
        self.wait()
        assert self.now() == ""

    def feed(self, nutrient: str) -> float:
        """What the feed holds as things stand [mg/L]."""
        assert self.surface.sheet.reckoned is not None
        bands = self.surface.sheet.reckoned.bands
        return next(band.row.feed_mg_per_l for band in bands if band.row.nutrient == nutrient)
