"""The main window: builds its parts and wires them, nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import structs
from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QMainWindow, QStackedWidget, QWidget

from app.session.session import Session
from app.session.state import read_state, write_state
from app.surfaces.design import DesignSurface
from app.surfaces.not_yet import NotYet
from app.widgets import icons, theme
from app.widgets.notice import Notice
from app.window.headline import Headline
from app.window.menus import Menus
from app.window.opening import Opening
from app.window.rail import NARROW_WIDTH, WIDTH, Rail
from app.wording import window as say
from app.wording.surfaces import SURFACES
from core.plan.records import Plan
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.surfaces.tanks import TanksSurface
    from app.surfaces.weighout import WeighoutSurface

    Surface = DesignSurface | TanksSurface | WeighoutSurface | NotYet

NARROW_BELOW = 720
LEAST_SIZE = (500, 340)
FIRST_SIZE = (1366, 768)


class MainWindow(QMainWindow):
    """Rail, headline, notice and the surface in view."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._body = QWidget(self)
        self._body.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.setCentralWidget(self._body)
        self.rail = Rail(self._body)
        self.headline = Headline(self._body)
        self.notice = Notice(self._body)
        self.stack = QStackedWidget(self._body)
        self.design = DesignSurface(self.stack, session)
        self.stack.addWidget(self.design)
        self.surfaces: dict[str, Surface] = {"design": self.design}
        self._waiting = QLabel(say.planning(), self._body)
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._faulty = False
        self.opening = Opening(self, session, self.notice)
        self.menus = Menus(self, session, self.opening, self.go_to)
        self._wire()
        self._set_up()

    def go_to(self, surface: str) -> None:
        """Bring a surface into view, built when it is first looked at."""
        if surface not in self.surfaces:
            self.surfaces[surface] = _build(surface, self.stack)
            self.stack.addWidget(self.surfaces[surface])
        self.stack.setCurrentWidget(self.surfaces[surface])
        self.rail.show_chosen(surface)
        self._show_surface()

    def surface(self) -> str:
        """Return the name of the surface in view."""
        return next(name for name, shown in self.surfaces.items() if shown is self.stack.currentWidget())

    def _wire(self) -> None:
        self.rail.chosen.connect(self.go_to)
        self.session.planned.connect(self._show_plan)
        self.session.failed.connect(self._show_fault)
        self.notice.height_changed.connect(self._arrange)
        self.session.opened.connect(self._show_file)
        self.session.edits.cleanChanged.connect(self._mark_changes)

    def _set_up(self) -> None:
        self.setWindowIcon(icons.app_icon())
        self.setAcceptDrops(True)
        self.setMinimumSize(*LEAST_SIZE)
        self.resize(*FIRST_SIZE)
        state = read_state()
        self.restoreGeometry(QByteArray.fromBase64(state.geometry.encode()))
        self.go_to(state.surface if state.surface in SURFACES else "design")
        self._show_file()
        self._body.setFocus()

    def _mark_changes(self, clean: bool) -> None:
        self.setWindowModified(not clean)

    def _show_file(self) -> None:
        name = "" if self.session.path is None else self.session.path.name
        self.setWindowFilePath("" if self.session.path is None else str(self.session.path))
        self.setWindowTitle(f"{name}[*]" if name else "[*]")
        self.setWindowModified(False)
        self.headline.show_plan(self.session.recipe, self.session.plan)

    def _show_plan(self, recipe: Recipe, plan: Plan) -> None:
        if self._faulty:
            self._faulty = False
            self.notice.clear()
        self.headline.show_plan(recipe, plan)
        self._show_surface()

    def _show_fault(self, reason: str) -> None:
        self._faulty = True
        self.notice.say(say.cannot_plan(reason, still_shown=self.session.plan is not None))

    def _show_surface(self) -> None:
        recipe, plan = self.session.recipe, self.session.plan
        self.stack.setVisible(plan is not None)
        self._waiting.setVisible(plan is None)
        if recipe is not None and plan is not None:
            self.surfaces[self.surface()].show_plan(recipe, plan)

    def _arrange(self) -> None:
        width, height = self._body.width(), self._body.height()
        rail = theme.px(WIDTH if width >= theme.px(NARROW_BELOW) else NARROW_WIDTH)
        self.rail.setGeometry(0, 0, rail, height)
        top = self.headline.height_for(width - rail)
        self.headline.setGeometry(rail, 0, width - rail, top)
        self.notice.setGeometry(rail, top, width - rail, self.notice.height())
        if not self.notice.isHidden():
            top += self.notice.height()
        for fill in (self.stack, self._waiting):
            fill.setGeometry(rail, top, width - rail, height - top)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._arrange()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.opening.takes(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        self.opening.drop(event.mimeData())

    def closeEvent(self, event: QCloseEvent) -> None:
        geometry = bytes(self.saveGeometry().toBase64().data()).decode()
        write_state(structs.replace(read_state(), surface=self.surface(), geometry=geometry))
        self.session.close()
        super().closeEvent(event)


def _build(surface: str, stack: QWidget) -> Surface:
    if surface == "tanks":
        from app.surfaces.tanks import TanksSurface

        return TanksSurface(stack)
    if surface == "weighout":
        from app.surfaces.weighout import WeighoutSurface

        return WeighoutSurface(stack)
    return NotYet(stack, surface)
