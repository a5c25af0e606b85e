"""What the bags are for: so much feed, or a season on an area; nothing typed is one filling of the tanks."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.surfaces.compare.side_card import SideCard
from app.widgets import theme
from app.widgets.form import Section, Words
from app.widgets.measure import NUMBER, VOLUME
from app.wording import comparing as say
from app.wording import comparing_cards as cards
from core.plan.costing import Use


class UseCard(SideCard):
    """Three fields and what they come to.

    Signals
    -------
    changed : the `Use`, None for one filling.
    """

    changed = Signal(object)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.card("use"))
        section = Section(self)
        self._litres: float | None = None
        self._season: float | None = None
        self._area: float | None = None
        self.litres = section.add_quantity(cards.use_litres(), VOLUME, self._type_litres, live=False)
        season, per_area = cards.use_season()
        self.season = section.add_quantity(season, NUMBER, self._type_season, live=False, name=f"{season}, {per_area}")
        section.set_unit_words(self.season, per_area)
        area, unit = cards.use_area()
        self.area = section.add_quantity(area, NUMBER, self._type_area, live=False, name=f"{area}, {unit}")
        section.set_unit_words(self.area, unit)
        self.words = Words(self)
        section.setContentsMargins(theme.px(4), 0, 0, 0)
        self.column.addWidget(section)
        self.add_words(self.words)

    def use(self) -> Use | None:
        """Return what the bags are for."""
        if self._season and self._area:
            return Use.on_area(self._season, self._area)
        return Use(self._litres) if self._litres else None

    def show_use(self, feed_l: float) -> None:
        """Say what the bags are counted for."""
        self.words.say(cards.use_words(feed_l, filling=self.use() is None))

    def _type_litres(self, litres: float | None) -> None:
        self._litres = litres
        if litres is not None:
            self._season = self._area = None
            self.season.set_quantity(None)
            self.area.set_quantity(None)
        self.changed.emit(self.use())

    def _type_season(self, litres_per_m2: float | None) -> None:
        self._season = litres_per_m2
        self._tell()

    def _type_area(self, area_m2: float | None) -> None:
        self._area = area_m2
        self._tell()

    def _tell(self) -> None:
        if self._season and self._area:
            self._litres = None
            self.litres.set_quantity(None)
        self.changed.emit(self.use())
