"""All that shows a recipe: headline, notice and the surface in view."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QRect, Qt, Signal
from PySide6.QtGui import QResizeEvent, QUndoGroup, QUndoStack
from PySide6.QtWidgets import QLabel, QStackedWidget, QWidget
from shiboken6 import isValid

from app.session.session import Session
from app.surfaces.design import DesignSurface
from app.surfaces.editors import Editors
from app.surfaces.editors.beginning import Beginning
from app.widgets import theme
from app.widgets.caution_strip import CautionStrip
from app.widgets.notice import Notice
from app.window.book_filing import BookFiling
from app.window.headline import Headline
from app.window.opening import Opening
from app.window.printing import Printing
from app.window.variant_files import VariantFiles
from app.wording import window as say
from core.plan.records import Plan
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.surfaces.compare import CompareSurface
    from app.surfaces.feed import FeedSurface
    from app.surfaces.logbook import LogbookSurface
    from app.surfaces.tanks import TanksSurface
    from app.surfaces.weighout import WeighoutSurface
    from core.logbook.records import Reservoir

    Surface = DesignSurface | CompareSurface | FeedSurface | LogbookSurface | TanksSurface | WeighoutSurface


CAUTIONED = frozenset({"tanks", "weighout"})
"""Surfaces with the cautions at their foot; Design has them among its cards."""


OWN_HEAD = frozenset({"feed", "logbook"})
"""Surfaces whose own head takes the headline's place: at a reservoir what is in it counts, not what was planned."""

UNPLANNED = frozenset({"logbook"})
"""Surfaces that need no plan to be worked at."""

EDGE = 14
"""What the surfaces leave free beside their cards, and the cautions below them [px]."""

NARROW, LOW = 1180, 560
"""Below this width most cautions take two lines; below this height no line is to spare for them [px]."""

FAULT = "plan"
"""What a notice is about that says why there is no plan."""


class Room(QWidget):
    """Shows what the session holds; a surface gets a new plan only while it is looked at.

    Signals
    -------
    wanted : the name of a surface that is to be brought into view.
    """

    wanted = Signal(str)

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
        self.cautions.height_changed.connect(self._settle_cautions)
        self._waiting = QLabel(say.planning(), self)
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._beginning = Beginning(self)
        self._faulty = False
        self._foot = QRect()
        self._arranged: tuple[str, bool, bool] | None = None
        self.editors = Editors(self, session)
        self.design.editor_wanted.connect(self.editors.toggle)
        self.headline.editor_wanted.connect(self.editors.toggle)
        self._beginning.wanted.connect(self.editors.open)
        self.opening = Opening(self, session, self.notice)
        self.variants = VariantFiles(self, session, self.notice, self.opening)
        self.printing = Printing(self, session, self.notice)
        self.books = BookFiling(self, session, self.notice, self._reservoir)
        self.undo = QUndoGroup(self)
        self.undo.addStack(session.edits)
        self.undo.setActiveStack(session.edits)
        self.notice.height_changed.connect(self._arrange)
        session.opened.connect(self._show_recipe)
        session.edited.connect(self._show_unplanned)
        session.planned.connect(self._show_plan)
        session.failed.connect(self._show_fault)

    def go_to(self, surface: str) -> None:
        """Bring a surface into view, built when it is first looked at."""
        if surface not in self.surfaces:
            self.surfaces[surface] = self._build(surface)
            self._stack.addWidget(self.surfaces[surface])
        self._stack.setCurrentWidget(self.surfaces[surface])
        self.books.watch()
        self._undo_in(surface)
        self._show_surface()

    def _undo_in(self, surface: str) -> None:
        """Have undo and redo act on what the surface shows: the logbook's diary, the weighing, or the recipe."""
        stack = self.session.edits
        if surface == "logbook":
            stack = self.session.book.edits
        elif surface == "weighout":
            self._watch_weighing()
            stack = self.session.weighing.edits if self.session.weighing.edits.count() else stack
        if stack not in self.undo.stacks():
            self.undo.addStack(stack)
        self.undo.setActiveStack(stack)

    def _watch_weighing(self) -> None:
        """Undo at the bench what was done there last: a weight, or the size of the batch."""
        weighed = self.session.weighing.edits
        if weighed in self.undo.stacks():
            return
        self.undo.addStack(weighed)
        weighed.indexChanged.connect(self._undo_weighing)
        self.session.edits.indexChanged.connect(self._undo_edits)

    def _undo_weighing(self) -> None:
        self._undo_last(self.session.weighing.edits)

    def _undo_edits(self) -> None:
        self._undo_last(self.session.edits)

    def _undo_last(self, stack: QUndoStack) -> None:
        if isValid(self._stack) and self.surface() == "weighout":  # a stack empties itself on its way out, too
            self.undo.setActiveStack(stack if stack.count() else self.session.edits)

    def _reservoir(self) -> Reservoir | None:
        """Return the reservoir in view on the logbook's surface."""
        self.wanted.emit("logbook")
        shown = self.surfaces["logbook"]
        return cast("LogbookSurface", shown).reservoir()

    def surface(self) -> str:
        """Return the name of the surface in view."""
        return next(name for name, shown in self.surfaces.items() if shown is self._stack.currentWidget())

    def _show_unplanned(self) -> None:
        if self.session.plan is None:
            self._show_recipe()

    def _show_recipe(self) -> None:
        self.headline.show_plan(*(self.session.shown or (self.session.recipe, None)))
        self._show_surface()

    def _show_plan(self, recipe: Recipe, plan: Plan) -> None:
        if self._faulty:
            self._faulty = False
            self.notice.clear(FAULT)
        self.headline.show_plan(recipe, plan)
        self._show_surface()

    def _show_fault(self, reason: str) -> None:
        self._faulty = True
        self.notice.say(say.cannot_plan(reason, still_shown=self.session.plan is not None), topic=FAULT)

    def _show_surface(self) -> None:
        recipe, plan = self.session.shown or (self.session.recipe, None)
        bare = plan is None and self.surface() not in UNPLANNED
        self._stack.setVisible(not bare)
        empty = recipe is not None and not recipe.shelf
        self._waiting.setVisible(bare and not empty)
        self._beginning.setVisible(bare and empty)
        if recipe is not None and plan is not None:
            self.surfaces[self.surface()].show_plan(recipe, plan)
            if self.surface() in CAUTIONED:
                self.cautions.set_cautions(plan.cautions)
        state = (self.surface(), plan is None, empty)
        if state != self._arranged:
            self._arranged = state
            self._arrange()

    def _arrange(self) -> None:
        width, height = self.width(), self.height()
        own = self.surface() in OWN_HEAD and (self.session.plan is not None or self.surface() in UNPLANNED)
        self.headline.setVisible(not own)
        top = 0 if own else self.headline.height_for(width)
        self.headline.setGeometry(0, 0, width, top)
        self.notice.setGeometry(0, top, width, self.notice.height())
        self.notice.raise_()
        if not self.notice.isHidden() and not self.notice.says(FAULT):
            top += self.notice.height()  # what is typed may bring up a fault, and nothing moves while one types
        strip = self._place_cautions(width, top)
        self._stack.setGeometry(0, top, width, height - top - strip)
        for fill in (self._waiting, self._beginning):
            fill.setGeometry(0, top, width, height - top)
        self.editors.place(QRect(0, top, width, height - top))

    def _place_cautions(self, width: int, top: int) -> int:
        """Put the cautions at the foot of every surface that weighs or fills; return the height kept for them [px]."""
        shown = self.surface() in CAUTIONED and self.session.plan is not None
        self.cautions.setVisible(shown)
        if not shown:
            return 0
        edge, gap = theme.px(EDGE), theme.px(theme.GAP)
        narrow = width < theme.px(NARROW) and self.height() > theme.px(LOW)
        # two sentences of two lines each stand there, with the help of a part of the gap above
        self.cautions.set_room(3 if narrow else 2, gap - theme.px(2) if narrow else 0)
        self._foot = QRect(edge, top, width - 2 * edge, self.height() - top - gap)
        self._settle_cautions()
        return self.cautions.reserved() + 2 * gap

    def _settle_cautions(self) -> None:
        self.cautions.settle(self._foot)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _build(self, surface: str) -> Surface:
        stack, session = self._stack, self.session
        if surface == "tanks":
            from app.surfaces.tanks import TanksSurface

            return TanksSurface(stack, session)
        if surface == "feed":
            from app.surfaces.feed import FeedSurface

            return FeedSurface(stack, session)
        if surface == "weighout":
            from app.surfaces.weighout import WeighoutSurface

            weighout = WeighoutSurface(stack, session)
            weighout.print_wanted.connect(self.printing.open)
            return weighout
        if surface == "compare":
            from app.surfaces.compare import CompareSurface

            compare = CompareSurface(stack, session)
            compare.editor_wanted.connect(self.editors.toggle)
            self.variants.serve(compare)
            return compare
        from app.surfaces.logbook import LogbookSurface

        return LogbookSurface(stack, session)
