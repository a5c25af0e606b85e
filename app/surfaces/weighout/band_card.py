"""What the feed will hold with the weights as they are, each nutrient with its honest band."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.surfaces.weighout.band_bar import BandBar
from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.laid_card import LaidCard, Text
from app.wording import figures, format_decimals, format_number, format_short, nutrient_word, verdict_word
from app.wording import weighout_batch as say
from core.logbook.reckoning import BandRow, Reckoned

ROW, NAME, VALUE, BAND = 25, 52, 50, 104
BARE_BELOW = 330


class _Row(QWidget):
    """Symbol, bar, feed, ends of the band."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFixedHeight(theme.px(ROW))
        self._words = ("", "", "", "")
        self._off = False
        self.bar = BandBar(self)

    def show_band(self, band: BandRow) -> None:
        """Show this nutrient."""
        row = band.row
        ends = say.band_text(_mg(band.low_mg_per_l), _mg(band.high_mg_per_l))
        self._words = (figures.symbol(row.nutrient), _mg(row.feed_mg_per_l), ends, verdict_word(row.verdict))
        self._off = row.verdict in ("short", "over")
        self.bar.set_band(band)
        parts = (format_short(one, 2) for one in (band.label_mg_per_l, band.weighing_mg_per_l, band.volume_mg_per_l))
        told = say.band_says(figures.capital(nutrient_word(row.nutrient)), _mg(row.feed_mg_per_l), ends,
                             verdict_word(row.verdict), *parts)  # fmt: skip
        self.setAccessibleName(told)
        self.setToolTip(told)
        self.update()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        left = theme.px(NAME)
        right = theme.px(VALUE + (BAND if self.width() >= theme.px(BARE_BELOW) else 0))
        self.bar.setGeometry(left, 0, max(theme.px(30), self.width() - left - right - theme.px(8)), self.height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        symbol, feed, ends, verdict = self._words
        tall = self.height()
        paint.text(painter, QRectF(0, 0, theme.px(NAME - 4), tall), symbol, theme.font(strong=True), colours.text)
        left = self.bar.geometry().right() + theme.px(8)
        place = QRectF(left, 0, theme.px(VALUE), tall)
        paint.text(painter, place, feed, theme.font(strong=True), colours.text, paint.RIGHT)
        if self.width() >= theme.px(BARE_BELOW):
            words, ink = (verdict, colours.check) if self._off else (ends, colours.muted)
            place = QRectF(place.right() + theme.px(8), 0, theme.px(BAND - 8), tall)
            paint.text(painter, place, words, theme.small(), ink)


class BandCard(LaidCard):
    """The card.

    Signals
    -------
    law_chosen : the label law to count by.
    """

    law_chosen = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent, say.band_title())
        self.ec = Text(self, 13.5, strong=True)
        self.column.addWidget(self.ec)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        self.column.addLayout(self._rows)
        self.rows: list[_Row] = []
        self.key = Text(self, 12, role="muted")
        self.key.say(say.band_key())
        self.column.addWidget(self.key)
        line = QHBoxLayout()
        label = QLabel(say.law_name(), self)
        label.setFont(theme.small())
        label.setWordWrap(True)
        self.law = Choice(self, say.law_name(), say.laws())
        self.law.setMinimumWidth(theme.px(120))
        self.law.chosen.connect(self.law_chosen)
        label.setBuddy(self.law)
        line.addWidget(label, 1)
        line.addWidget(self.law, 2)
        self.column.addLayout(line)
        self.foot = Text(self, 12, role="muted")
        self.bare = Text(self, 12, role="check")
        for part in (self.foot, self.bare):
            self.column.addWidget(part)

    def show_reckoned(self, told: Reckoned, law: str) -> None:
        """Show the batch as it stands."""
        shown = [band for band in told.bands if band.row.feed_mg_per_l > 0.0 and _asked(band)]
        while len(self.rows) < len(shown):
            self.rows.append(_Row(self))
            self._rows.addWidget(self.rows[-1])
        for row, band in zip(self.rows, shown, strict=False):
            row.show_band(band)
        for number, row in enumerate(self.rows):
            row.setVisible(number < len(shown))
        feed = told.plan.feed
        known = feed.ec_ms_per_cm
        ec = "" if known is None else format_decimals(known, 2)
        self.ec.say(say.ec_line(ec, format_short(feed.ec_band_percent, 2)) if ec else say.ec_unknown())
        self.law.set_key(law)
        self.foot.say(say.band_foot(law))
        bare = [figures.symbol(band.row.nutrient) for band in shown if band.unlimited]
        self.bare.say(say.no_limit_read(bare) if bare and law != "none" else "")


def _asked(band: BandRow) -> bool:
    row = band.row
    return row.target_mg_per_l is not None or row.verdict in ("short", "over") or row.high_mg_per_l is None


def _mg(value: float) -> str:
    return format_number(value)
