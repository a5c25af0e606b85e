"""What to know before mixing, the worst first: as many as there is room for, the rest behind a count."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.widgets import icons, paint, theme
from app.widgets.link_button import LinkButton
from app.wording import caution_text, level_word
from app.wording import surfaces as say
from core.plan.records import Caution

SHOWN_AT_MOST, LEAST_LINES = 3, 2
LINE, FOOT = 21, 16
RANK = {"stop": 0, "check": 1, "note": 2}


class CautionLine(QWidget):
    """One caution: its mark by level and its sentence, which can be selected and copied."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._level = ""
        self._heights: dict[int, int] = {}
        self._ground = QColor()
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self._words = QLabel(self)
        self._words.setAutoFillBackground(True)
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setFont(theme.font(12.5))
        self._words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def set_caution(self, caution: Caution | None) -> None:
        """Show this caution, or for None that there is none."""
        level = "met" if caution is None else caution.level
        words = say.no_cautions() if caution is None else caution_text(caution)
        if (level, words) != (self._level, self._words.text()):
            self._level = level
            self._heights.clear()
            self._words.setText(words)
            self._words.setAccessibleName(words if caution is None else f"{level_word(level)}: {words}")
            self.update(0, 0, self._words.x(), self.height())

    def lie_on(self, ground: QColor) -> None:
        """Cover this ground, so that what is below need not be painted with the sentence."""
        if ground != self._ground:
            self._ground = ground
            palette = QPalette()
            palette.setColor(QPalette.ColorRole.Window, ground)
            self._words.setPalette(palette)
            self.update()

    def words(self) -> str:
        """Return the level and the sentence, as a screen reader says them."""
        return self._words.accessibleName()

    def height_for(self, width: int) -> int:
        """Return the height the sentence needs at this width [px]."""
        if width not in self._heights:
            room = width - theme.px(26)
            one = theme.font(12.5).width(self._words.text()) < room
            tall = theme.font(12.5).height() if one else self._words.heightForWidth(room)  # far quicker for one line
            self._heights[width] = tall + theme.px(6)
        return self._heights[width]

    def resizeEvent(self, _event: QResizeEvent) -> None:
        left = theme.px(26)
        self._words.setGeometry(left, theme.px(3), self.width() - left, self.height() - theme.px(3))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        colour = {"stop": colours.stop, "check": colours.check, "met": colours.accent}.get(self._level, colours.muted)
        side, painter = theme.px(14), QPainter(self)
        painter.fillRect(self.rect(), self._ground)
        icons.draw(painter, f"mark-{self._level}", QRectF(theme.px(2), theme.px(4), side, side), colour)


class CautionStrip(QWidget):
    """Holds the lines; the place reserved for it depends on the room it was given and never on what is said.

    So nothing else moves while a person types and cautions come and go. The worst is always said in full: where that
    needs more than was reserved, the strip lies over what is above it.

    Signals
    -------
    height_changed : it needs another height.
    """

    height_changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._cautions: tuple[Caution, ...] = ()
        self._room_px, self._over_px = theme.px(LINE) * LEAST_LINES, 0
        self._lines: list[CautionLine] = []
        self._more = LinkButton(self, unfolds=True)
        self._more.toggled.connect(self._unfold)
        self._more.hide()
        self.setAccessibleName(say.cautions_name())

    def set_cautions(self, cautions: tuple[Caution, ...]) -> None:
        """Show these cautions, stops before checks before notes."""
        ordered = tuple(sorted(cautions, key=lambda caution: RANK[caution.level]))
        if ordered == self._cautions and self._lines:
            return
        needed = self.height_for(self.width()) if self._lines else -1
        if bool(ordered) != bool(self._cautions):
            self.update()  # on another ground
        self._cautions = ordered
        self._say()
        self._arrange()
        if self.height_for(self.width()) != needed:
            self.height_changed.emit()

    def _say(self) -> None:
        """Word the cautions that may be shown; those behind the count are worded when it is unfolded."""
        said: tuple[Caution | None, ...] = self._cautions or (None,)
        for number, caution in enumerate(said if self._more.isChecked() else said[: self._most()]):
            if number == len(self._lines):
                self._lines.append(CautionLine(self))
            self._lines[number].lie_on(self._colours()[0])
            self._lines[number].set_caution(caution)

    def set_room(self, lines: int, over_px: int = 0) -> None:
        """Say how many lines of text there is room for while the strip is folded, and how far it may reach above it."""
        room_px = theme.px(LINE) * max(LEAST_LINES, lines)
        if (room_px, over_px) != (self._room_px, self._over_px):
            self._room_px, self._over_px = room_px, over_px
            if self._lines:
                self._say()

    def _most(self) -> int:
        """Return how many cautions there may be room for while it is folded."""
        return min(SHOWN_AT_MOST, max(1, self._room_px // theme.px(LINE)))

    def reserved(self) -> int:
        """Return the height kept free for the strip [px]."""
        return self._room_px + theme.px(FOOT)

    def settle(self, place: QRect) -> None:
        """Stand at the foot of this place, over whatever is in it where the strip needs more than was reserved."""
        tall = min(self.height_for(place.width()), place.height())
        self.setGeometry(place.left(), place.bottom() + 1 - tall, place.width(), tall)
        self.raise_()

    def height_for(self, width: int) -> int:
        """Return the height the strip needs at this width and with this room [px]."""
        heights = self._heights_at(width)
        if self._more.isChecked():
            return max(self._room_px, sum(heights)) + theme.px(FOOT)
        return max(self._room_px, sum(heights[: self._fitting(heights)])) + theme.px(FOOT)

    def _heights_at(self, width: int) -> list[int]:
        inner = self._text_width(width)
        count = len(self._cautions) if self._more.isChecked() else min(self._most(), len(self._cautions))
        return [line.height_for(inner) for line in self._lines[: max(1, count)]]

    def _text_width(self, width: int) -> int:
        return max(1, width - 2 * theme.px(theme.PAD) - theme.px(104))

    def _fitting(self, heights: list[int]) -> int:
        if self._more.isChecked():
            return len(heights)
        room, count = self._room_px + self._over_px, 0
        for height in heights[: self._most()]:
            if count and height > room:
                break
            room -= height
            count += 1
        return count

    def _unfold(self) -> None:
        self._say()
        self._arrange()
        self.height_changed.emit()

    def _arrange(self) -> None:
        heights = self._heights_at(self.width())
        shown, inner, top = self._fitting(heights), self._text_width(self.width()), theme.px(8)
        for number, line in enumerate(self._lines):
            if line.isHidden() == (number < shown):
                line.setVisible(number < shown)
        for line, height in zip(self._lines[:shown], heights, strict=False):
            line.setGeometry(theme.px(theme.PAD), top, inner, height)
            top += height
        hidden = len(self._cautions) - shown
        self._more.set_text(say.fewer_cautions() if self._more.isChecked() else say.more_cautions(hidden))
        self._more.setVisible(hidden > 0 or self._more.isChecked())
        size = self._more.sizeHint()
        self._more.setGeometry(self.width() - size.width() - theme.px(10), theme.px(7), size.width(), size.height())

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def paintEvent(self, _event: QPaintEvent) -> None:
        paint.panel(QPainter(self), QRectF(self.rect()), *self._colours(), theme.px(theme.RADIUS))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.ApplicationPaletteChange):
            for line in self._lines:
                line.lie_on(self._colours()[0])

    def _colours(self) -> tuple[QColor, QColor]:
        """Return the colours of the ground and of the line around it."""
        colours = theme.colours()
        return (colours.strip, colours.strip_line) if self._cautions else (colours.card, colours.line)
