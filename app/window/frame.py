"""The main window: its frame is painted at once, what takes longer to load is moved in afterwards."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QEvent, QSize, Qt
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QResizeEvent
from PySide6.QtWidgets import QMainWindow, QWidget

from app.session.state import read_state, write_state
from app.widgets import theme
from app.window.rail import NARROW_WIDTH, WIDTH, Rail
from app.wording import window as say
from app.wording.surfaces import SURFACES

if TYPE_CHECKING:
    from app.session.session import Session
    from app.window.menus import Menus
    from app.window.room import Room

NARROW_BELOW = 720
LEAST_SIZE = (500, 340)
FIRST_SIZE = (1366, 768)
FRAME = (4, 40)
"""What the desktop's own frame and title take beside and above the window at the most [px]."""


class MainWindow(QMainWindow):
    """Menu bar and rail, and a room to their right once it is furnished."""

    def __init__(self) -> None:
        super().__init__()
        self._body = QWidget(self)
        self._body.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setCentralWidget(self._body)
        self.rail = Rail(self._body)
        self.titles = {name: self.menuBar().addMenu(say.menu(name)) for name in say.MENUS}
        self._room: Room | None = None
        self._menus: Menus | None = None
        self.setMinimumSize(*LEAST_SIZE)
        self.resize(self._first_size())
        self._remembered = read_state()
        self.restoreGeometry(QByteArray.fromBase64(self._remembered.geometry.encode()))
        self.rail.show_chosen(self._first_surface())
        self._body.setFocus()

    @property
    def room(self) -> Room:
        """All that shows a recipe; there once the window is furnished."""
        assert self._room is not None, "not furnished yet"
        return self._room

    def furnish(self, session: Session) -> None:
        """Move in everything that shows and edits the session's recipe."""
        from app.widgets.icons import app_icon
        from app.window.menus import Menus
        from app.window.room import Room

        self._room = Room(self._body, session)
        self._menus = Menus(self, self._room)
        self.rail.chosen.connect(self.go_to)
        self._room.wanted.connect(self.go_to)
        session.opened.connect(self._show_file)
        session.saved.connect(self._show_file)
        session.edits.cleanChanged.connect(self._mark_changes)
        self.setWindowIcon(app_icon())
        self.setAcceptDrops(True)
        self.go_to(self._first_surface())
        self._show_file()
        self._arrange()
        self._room.show()

    def go_to(self, surface: str) -> None:
        """Bring a surface into view."""
        self.room.go_to(surface)
        self.rail.show_chosen(surface)

    def show_chemistry(self) -> None:
        """Bring the chemistry of the feed into view."""
        self.go_to("design")
        self.room.design.open_chemistry()

    def _first_size(self) -> QSize:
        """Return the drawn size, or as much of it as the screen holds together with the desktop's frame."""
        free = self.screen().availableSize() - QSize(*FRAME)
        return QSize(*FIRST_SIZE).boundedTo(free).expandedTo(QSize(*LEAST_SIZE))

    def _first_surface(self) -> str:
        return self._remembered.surface if self._remembered.surface in SURFACES else "design"

    def _mark_changes(self, clean: bool) -> None:
        self.setWindowModified(not clean)

    def _show_file(self) -> None:
        path, recipe = self.room.session.path, self.room.session.recipe
        self.setWindowFilePath("" if path is None else str(path))
        name = path.name if path is not None else "" if recipe is None else recipe.title
        self.setWindowTitle(f"{name.replace('[*]', '[*][*]')}[*]")
        self.setWindowModified(self.room.session.unsaved)

    def _arrange(self) -> None:
        width, height = self._body.width(), self._body.height()
        rail = theme.px(WIDTH if width >= theme.px(NARROW_BELOW) else NARROW_WIDTH)
        self.rail.setGeometry(0, 0, rail, height)
        if self._room is not None:
            self._room.setGeometry(rail, 0, width - rail, height)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow() and self._room is not None:
            self._room.opening.filing.look()
            self._room.books.look()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.room.opening.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.room.opening.drop(event.mimeData())

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._room is not None and not (self._room.opening.filing.may_leave() and self._room.books.may_leave()):
            event.ignore()
            return
        geometry = bytes(self.saveGeometry().toBase64().data()).decode()
        surface = self._first_surface() if self._room is None else self._room.surface()
        write_state(replace(read_state(), surface=surface, geometry=geometry))
        if self._room is not None:
            self._room.opening.filing.close()
            self._room.session.close()
        super().closeEvent(event)
