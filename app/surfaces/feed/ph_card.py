"""What acid or base will do once the EC stands: the steps, the pH after each, and what to mind with it in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.surfaces.feed.products import care_of, offered, usual
from app.widgets import paint, theme
from app.widgets.card import PAD, Card
from app.widgets.choice import Choice
from app.widgets.form_field import FormField
from app.widgets.laid_card import Text
from app.widgets.measure import NUMBER, PERCENT
from app.wording import feed_cards as say
from app.wording import feed_surface as words
from app.wording import format_decimals

if TYPE_CHECKING:
    from app.surfaces.feed.dosing import Dosing
    from core.plan.feeding_records import PhForecast

LINE, FIELDS, NAME, VALUE = 23, 32, 112, 34
BESIDE_FROM = 290
LOW_PH, HIGH_PH = 4.0, 9.0
"""Ends of the bars."""


class PhCard(Card):
    """Fields on one line, a bar per step, the care that acid needs."""

    def __init__(self, parent: QWidget, dosing: Dosing) -> None:
        super().__init__(parent, say.ph_title())
        self._dosing = dosing
        self._told: PhForecast | None = None
        self._rows: list[tuple[str, float]] = []
        self.product = Choice(self, say.products_name())
        # its width is the card's matter: left to itself it grows to its longest text whenever that changes
        self.product.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.product.chosen.connect(self._choose)
        self.strength = FormField(self, PERCENT, words.label("strength"), live=False)
        self.strength.typed.connect(self._take_strength)
        self.wanted = FormField(self, NUMBER, words.label("ph"), live=False)
        self.wanted.typed.connect(self._take_wanted)
        self.percent, self.towards = QLabel("%", self), QLabel(say.to_ph(), self)
        for label, buddy in ((self.percent, self.strength), (self.towards, self.wanted)):
            label.setFont(theme.small())
            label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
            label.setBuddy(buddy)
        self.sentence = Text(self, 12, role="muted")
        self.care = Text(self, 12, role="check")
        self.bars = _Bars(self)

    def show_told(self) -> None:
        """Show the dosing's pH."""
        dosing = self._dosing
        self._told = None if dosing.told is None else dosing.told.ph
        told = self._told
        drop = None if told is None else told.drop
        if dosing.tanks is not None:
            kind = "base" if told is not None and drop is not None and told.ph < told.wanted[0] else "acid"
            self.product.set_pairs(offered(dosing.tanks.recipe, kind))
            self.product.set_key(dosing.asked.product or usual(dosing.tanks.recipe, kind))
        if drop is not None:
            self.product.set_key(drop.key)
            self.strength.set_quantity(drop.strength_percent)
        for part in (self.strength, self.percent):
            part.setVisible(drop is not None and drop.strength_percent is not None)
        self.wanted.set_quantity(None if told is None else told.aim)
        self._rows = [] if told is None else say.ph_rows(told)
        self.bars.show_rows(self._rows)
        self.sentence.say("" if told is None else say.ph_sentence(told))
        self.care.say("" if drop is None else care_of(drop))
        self._arrange()

    def rows(self) -> list[tuple[str, float]]:
        """Return what the bars show."""
        return self._rows

    def _choose(self, key: str) -> None:
        self._dosing.want(product=key, strength_percent=None)

    def _take_strength(self, value: float | None) -> None:
        if value is not None and 0.0 < value <= 100.0:
            reason = self._dosing.refuses(self.product.key(), value)
            if reason:
                self.strength.refuse(reason)
            else:
                self._dosing.want(product=self.product.key(), strength_percent=value)

    def _take_wanted(self, value: float | None) -> None:
        if value is None:
            return
        if not LOW_PH <= value <= HIGH_PH:
            self.wanted.refuse(say.no_such_ph())
        else:
            self._dosing.want(wanted_ph=value)

    def least_height(self, width: int) -> int:
        inner = width - 2 * theme.px(PAD)
        fields = theme.px(FIELDS) * (1 if inner >= theme.px(BESIDE_FROM) else 2)
        bars = theme.px(LINE) * max(len(self._rows), 3)
        return self.body_top + fields + bars + self._foot(inner) + theme.px(12)

    def _foot(self, inner: int) -> int:
        return sum(part.heightForWidth(inner) + theme.px(4) for part in self._texts())

    def _texts(self) -> list[Text]:
        return [part for part in (self.sentence, self.care) if not part.isHidden()]

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        pad, tall = theme.px(PAD), theme.px(26)
        inner, top = self.width() - 2 * pad, self.body_top
        right = pad + inner
        if inner < theme.px(BESIDE_FROM):
            self.product.setGeometry(pad, top, inner, tall)
            top += theme.px(FIELDS)
        fields: tuple[tuple[QWidget, int], ...] = (
            (self.wanted, theme.px(44)), (self.towards, self.towards.sizeHint().width() + theme.px(6)),
            (self.percent, self.percent.sizeHint().width() + theme.px(4)), (self.strength, theme.px(48)),
        )  # fmt: skip
        for part, wide in fields:
            if not part.isHidden():
                part.setGeometry(right - wide, top, wide, tall)
                right -= wide + theme.px(4)
        if inner >= theme.px(BESIDE_FROM):
            self.product.setGeometry(pad, top, right - pad - theme.px(4), tall)
        top += theme.px(FIELDS)
        self.bars.setGeometry(pad, top, inner, theme.px(LINE) * max(len(self._rows), 1))
        bottom = self.height() - theme.px(10)
        for part in reversed(self._texts()):
            high = part.heightForWidth(inner)
            bottom -= high
            part.setGeometry(pad, max(bottom, self.bars.geometry().bottom() + 1), inner, high)
            bottom -= theme.px(4)


class _Bars(QWidget):
    """A name, a bar and a pH per line; the last one, aired, stands apart by its outline."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._rows: list[tuple[str, float]] = []

    def show_rows(self, rows: list[tuple[str, float]]) -> None:
        """Show these."""
        self._rows = rows
        self.setAccessibleName("; ".join(f"{name}: {format_decimals(ph, 1)}" for name, ph in rows))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, line = theme.colours(), QPainter(self), theme.px(LINE)
        name, value = theme.px(NAME), theme.px(VALUE)
        for number, (text, ph) in enumerate(self._rows):
            top = number * line
            paint.text(painter, QRectF(0, top, name, line), text, theme.font(12.5), colours.muted)
            track = QRectF(name + theme.px(6), top + line * 0.3, self.width() - name - value - theme.px(12), line * 0.4)
            share = min(max((ph - LOW_PH) / (HIGH_PH - LOW_PH), 0.02), 1.0)
            bar = QRectF(track.left(), track.top(), track.width() * share, track.height())
            last = number == len(self._rows) - 1 and number > 0
            paint.panel(
                painter, bar, colours.card if last else colours.added, colours.muted if last else None, bar.height() / 2
            )
            place = QRectF(self.width() - value, top, value, line)
            paint.text(painter, place, format_decimals(ph, 1), theme.font(14, strong=True), colours.text, paint.RIGHT)
