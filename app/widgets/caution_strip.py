"""What to know before mixing, the worst first: a few lines, the rest behind a count."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.widgets import icons, paint, theme
from app.widgets.link_button import LinkButton
from app.wording import caution_text, level_word
from app.wording import surfaces as say
from core.plan.records import Caution

SHOWN_AT_MOST = 3
RANK = {"stop": 0, "check": 1, "note": 2}


class CautionLine(QWidget):
    """One caution: its mark by level and its sentence, which can be selected and copied."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._level = "note"
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setFont(theme.font(12.5))
        self._words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)

    def set_caution(self, caution: Caution) -> None:
        """Show this caution."""
        words = caution_text(caution)
        if (caution.level, words) != (self._level, self._words.text()):
            self._level = caution.level
            self._words.setText(words)
            self._words.setAccessibleName(f"{level_word(caution.level)}: {words}")
            self.update()

    def words(self) -> str:
        """Return the level and the sentence, as a screen reader says them."""
        return self._words.accessibleName()

    def height_for(self, width: int) -> int:
        """Return the height the sentence needs at this width [px]."""
        return self._words.heightForWidth(width - theme.px(26)) + theme.px(6)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        left = theme.px(26)
        self._words.setGeometry(left, theme.px(3), self.width() - left, self.height() - theme.px(3))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        colour = {"stop": colours.stop, "check": colours.check}.get(self._level, colours.muted)
        side = theme.px(14)
        icons.draw(QPainter(self), f"mark-{self._level}", QRectF(theme.px(2), theme.px(4), side, side), colour)


class CautionStrip(QWidget):
    """Holds the lines; `set_room` says how many may be shown while it is folded.

    Signals
    -------
    height_changed : it needs another height.
    """

    height_changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._cautions: tuple[Caution, ...] = ()
        self._room = SHOWN_AT_MOST
        self._height = 0
        self._lines: list[CautionLine] = []
        self._more = LinkButton(self, unfolds=True)
        self._more.toggled.connect(self._fill)
        self._more.hide()
        self.setAccessibleName(say.cautions_name())

    def set_cautions(self, cautions: tuple[Caution, ...]) -> None:
        """Show these cautions, stops before checks before notes."""
        ordered = tuple(sorted(cautions, key=lambda caution: RANK[caution.level]))
        if ordered != self._cautions:
            self._cautions = ordered
            self._fill()

    def set_room(self, lines: int) -> None:
        """Say how many cautions there is room for while the strip is folded."""
        if lines != self._room:
            self._room = lines
            self._fill()

    def height_for(self, width: int) -> int:
        """Return the height the strip needs at this width, 0 where there is nothing to say [px]."""
        shown = self._shown()
        if not shown:
            return 0
        inner = self._text_width(width)
        return sum(line.height_for(inner) for line in self._lines[: len(shown)]) + theme.px(16)

    def _shown(self) -> tuple[Caution, ...]:
        return self._cautions if self._more.isChecked() else self._cautions[: self._room]

    def _text_width(self, width: int) -> int:
        return width - 2 * theme.px(theme.PAD) - (self._more.sizeHint().width() + theme.px(8) if self._hidden() else 0)

    def _hidden(self) -> int:
        return max(0, len(self._cautions) - self._room)

    def _fill(self) -> None:
        shown = self._shown()
        while len(self._lines) < len(shown):
            self._lines.append(CautionLine(self))
        for line, caution in zip(self._lines, shown, strict=False):
            line.set_caution(caution)
        for number, line in enumerate(self._lines):
            line.setVisible(number < len(shown))
        self._more.set_text(say.fewer_cautions() if self._more.isChecked() else say.more_cautions(self._hidden()))
        self._more.setVisible(self._hidden() > 0)
        self._arrange()
        height = self.height_for(self.width())
        if height != self._height:
            self._height = height
            self.height_changed.emit()

    def _arrange(self) -> None:
        top = theme.px(8)
        inner = self._text_width(self.width())
        for line in self._lines[: len(self._shown())]:
            height = line.height_for(inner)
            line.setGeometry(theme.px(theme.PAD), top, inner, height)
            top += height
        size = self._more.sizeHint()
        self._more.setGeometry(self.width() - size.width() - theme.px(10), theme.px(7), size.width(), size.height())

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        radius = theme.px(theme.RADIUS)
        paint.panel(QPainter(self), QRectF(self.rect()), colours.strip, colours.strip_line, radius)
