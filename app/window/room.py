"""All that shows a recipe: headline, notice and the surface in view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QStackedWidget, QWidget

from app.session.session import Session
from app.surfaces.design import DesignSurface
from app.surfaces.editors import Editors
from app.surfaces.editors.beginning import Beginning
from app.surfaces.not_yet import NotYet
from app.widgets import theme
from app.widgets.caution_strip import CautionStrip
from app.widgets.notice import Notice
from app.window.headline import Headline
from app.window.opening import Opening
from app.wording import window as say
from core.plan.records import Plan
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.surfaces.tanks import TanksSurface
    from app.surfaces.weighout import WeighoutSurface

    Surface = DesignSurface | TanksSurface | WeighoutSurface | NotYet


CAUTIONED = frozenset({"tanks", "weighout"})
"""Surfaces with the cautions at their foot; Design has them among its cards."""


class Room(QWidget):
    """Shows what the session holds; a surface gets a new plan only while it is looked at."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self.session = session
        self.headline = Headline(self)
        self.notice = Notice(self)
        self._stack = QStackedWidget(self)
        self.design = DesignSurface(self._stack, session)
        self._stack.addWidget(self.design)
        self.surfaces: dict[str, Surface] = {"design": self.design}
        self.cautions = CautionStrip(self)
        self.cautions.height_changed.connect(self._arrange)
        self._waiting = QLabel(say.planning(), self)
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._beginning = Beginning(self)
        self._faulty = False
        self.editors = Editors(self, session)
        self.design.editor_wanted.connect(self.editors.toggle)
        self.headline.editor_wanted.connect(self.editors.toggle)
        self._beginning.wanted.connect(self.editors.open)
        self.opening = Opening(self, session, self.notice)
        self.notice.height_changed.connect(self._arrange)
        session.opened.connect(self._show_recipe)
        session.edited.connect(self._show_unplanned)
        session.planned.connect(self._show_plan)
        session.failed.connect(self._show_fault)

    def go_to(self, surface: str) -> None:
        """Bring a surface into view, built when it is first looked at."""
        if surface not in self.surfaces:
            self.surfaces[surface] = _build(surface, self._stack, self.session)
            self._stack.addWidget(self.surfaces[surface])
        self._stack.setCurrentWidget(self.surfaces[surface])
        self._show_surface()

    def surface(self) -> str:
        """Return the name of the surface in view."""
        return next(name for name, shown in self.surfaces.items() if shown is self._stack.currentWidget())

    def _show_unplanned(self) -> None:
        if self.session.plan is None:
            self._show_recipe()

    def _show_recipe(self) -> None:
        self.headline.show_plan(self.session.recipe, self.session.plan)
        self._show_surface()

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
        self._stack.setVisible(plan is not None)
        empty = recipe is not None and not recipe.shelf
        self._waiting.setVisible(plan is None and not empty)
        self._beginning.setVisible(plan is None and empty)
        if recipe is not None and plan is not None:
            self.surfaces[self.surface()].show_plan(recipe, plan)
            self.cautions.set_cautions(plan.cautions)
        self._arrange()

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        top = self.headline.height_for(width)
        self.headline.setGeometry(0, 0, width, top)
        self.notice.setGeometry(0, top, width, self.notice.height())
        if not self.notice.isHidden():
            top += self.notice.height()
        strip = self._place_cautions(width, height - top)
        self._stack.setGeometry(0, top, width, height - top - strip)
        for fill in (self._waiting, self._beginning):
            fill.setGeometry(0, top, width, height - top)
        self.editors.place(QRect(0, top, width, height - top))

    def _place_cautions(self, width: int, room: int) -> int:
        """Put the cautions at the foot of every surface that weighs or fills; return the height they take [px]."""
        shown = self.surface() in CAUTIONED and self.session.plan is not None
        self.cautions.setVisible(shown)
        if not shown:
            return 0
        margin = theme.px(theme.GAP)
        inner = width - 2 * margin
        tall = min(self.cautions.height_for(inner), room // 2)
        self.cautions.setGeometry(margin, self.height() - tall - margin, inner, tall)
        return tall + margin

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()


def _build(surface: str, stack: QWidget, session: Session) -> Surface:
    if surface == "tanks":
        from app.surfaces.tanks import TanksSurface

        return TanksSurface(stack, session)
    if surface == "weighout":
        from app.surfaces.weighout import WeighoutSurface

        return WeighoutSurface(stack)
    return NotYet(stack, surface)
