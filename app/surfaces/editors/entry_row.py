"""One product of the shelf: a line that unfolds into all that can be said of it."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QVBoxLayout, QWidget

from app.session.session import Session
from app.surfaces.editors.entry_form import EntryForm
from app.widgets import icons, paint, theme
from app.wording import editors_shelf as of_shelf
from app.wording.phrases import product_parts
from core.recipe.records import Recipe, ShelfEntry

HEIGHT = 32


class _Head(QAbstractButton):
    """Name and grade at the left, price and bounds at the right."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._name, self._grade, self._aside = "", "", ""
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFixedHeight(theme.px(HEIGHT))

    def set_words(self, name: str, grade: str, aside: str) -> None:
        """Show these words."""
        self._name, self._grade, self._aside = name, grade, aside
        self.setAccessibleName(" ".join(filter(None, (name, grade))))
        self.setAccessibleDescription(aside)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(theme.px(200), theme.px(HEIGHT))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter, side = theme.colours(), QPainter(self), theme.px(11)
        place = QRectF(self.rect())
        if self.underMouse() or self.isChecked():
            paint.panel(painter, place, colours.hover, None, theme.px(5))
        mark = QRectF(theme.px(8), (self.height() - side) / 2, side, side)
        icons.draw(painter, "mark-shut" if self.isChecked() else "mark-open", mark, colours.accent)
        line = place.adjusted(theme.px(26), 0, -theme.px(10), 0)
        room = line.width() - theme.small().width(self._aside) - theme.px(10)
        paint.text(painter, QRectF(line.left(), 0, room, line.height()), self._name, theme.font(), colours.text)
        used = theme.font().width(self._name) + theme.px(7)
        grade = QRectF(line.left() + used, 0, room - used, line.height())
        paint.text(painter, grade, self._grade, theme.small(), colours.muted)
        paint.text(painter, line, self._aside, theme.small(), colours.muted, paint.RIGHT)
        if self.hasFocus():
            paint.focus_ring(painter, place, colours.focus, theme.px(5))


class EntryRow(QWidget):
    """The line, and the form below it once unfolded.

    Signals
    -------
    unfolded : the row was opened by hand.
    renamed : its key changes, from the one to the other.
    removed : its product is to leave the shelf.
    """

    unfolded = Signal()
    renamed = Signal(str, str)
    removed = Signal()

    def __init__(self, parent: QWidget, session: Session, entry: ShelfEntry) -> None:
        super().__init__(parent)
        self._session = session
        self._entry = entry
        self.form: EntryForm | None = None
        self.head = _Head(self)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.head)
        self.head.clicked.connect(self._click)
        self._say(session.recipe.currency if session.recipe is not None else "")

    def set_open(self, open_: bool) -> None:
        """Unfold or fold the row."""
        self.head.setChecked(open_)
        if open_ and self.form is None:
            self.form = EntryForm(self, self._session, self._entry)
            self.form.renamed.connect(self.renamed)
            self.form.removed.connect(self.removed)
            self._column.addWidget(self.form)
        if self.form is not None:
            self.form.setVisible(open_)

    def show_entry(self, recipe: Recipe, entry: ShelfEntry) -> None:
        """Show the entry as the recipe holds it."""
        self._entry = entry
        if self.form is not None:
            self.form.show_recipe(recipe)
        self._say(recipe.currency)

    def _say(self, currency: str) -> None:
        entry = self._entry
        name, grade = product_parts(entry)
        own = entry.entry_id if entry.entry_id is not None else grade
        self.head.set_words(name, own, of_shelf.entry_aside(entry, currency))

    def _click(self) -> None:
        self.set_open(self.head.isChecked())
        if self.head.isChecked():
            self.unfolded.emit()
