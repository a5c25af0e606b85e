"""The open recipe: everything that is edited, shown, opened and undone goes through here."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path as FilePath
from time import monotonic

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from app.session.edits import Edit, Path
from app.session.planning import Answer, Planner
from core.plan.records import Plan
from core.recipe import check, load
from core.recipe.records import Recipe


class Session(QObject):
    """Holds the current recipe and its plan; the only one who changes either.

    Signals
    -------
    planned : the recipe and its plan, whenever a new plan is there.
    failed : why the newest recipe has no plan; the last good one stays.
    opened : another recipe was opened; the next plan is its first.
    """

    planned = Signal(object, object)
    failed = Signal(str)
    opened = Signal()

    def __init__(self, planner: Planner | None = None, clock: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.recipe: Recipe | None = None
        self.plan: Plan | None = None
        self.path: FilePath | None = None
        self.edits = QUndoStack(self)
        self._clock = clock
        self._planner = planner or Planner()
        self._planner.setParent(self)
        self._planner.answered.connect(self._take_answer)

    def open(self, path: FilePath) -> None:
        """Open a recipe file in place of the current recipe.

        Raises
        ------
        RecipeError : the file is refused; everything stays as it was.
        """
        self.start(load(path), path)

    def start(self, recipe: Recipe, path: FilePath | None = None, plan: Plan | None = None) -> None:
        """Begin with this recipe, showing its plan at once where it is already known."""
        self._planner.withdraw()
        self.recipe, self.plan, self.path = recipe, plan, path
        self.edits.clear()
        self.opened.emit()
        if plan is None:
            self._planner.ask(recipe)
        else:
            self.planned.emit(recipe, plan)

    def verify(self) -> None:
        """Plan the current recipe anew: loads the engine and replaces a plan that was shipped or stored."""
        if self.recipe is not None:
            self._planner.ask(self.recipe)

    def push(self, label: str, path: Path, recipe: Recipe) -> None:
        """Make an edit that can be undone.

        Parameters
        ----------
        label : what the edit is called in the menu.
        path : the field it touches; edits of one field within a second count as one.

        Raises
        ------
        RecipeError : the recipe would not be one; nothing changes.
        """
        if self.recipe is None or recipe == self.recipe:
            return
        check(recipe)
        self.edits.push(Edit(self._take, label, path, self.recipe, recipe, self._clock()))

    def close(self) -> None:
        """End the work behind the window."""
        self._planner.close()

    def _take(self, recipe: Recipe) -> None:
        self.recipe = recipe
        self._planner.ask(recipe)

    def _take_answer(self, answer: Answer) -> None:
        if answer.plan is None:
            self.failed.emit(answer.fault)
            return
        self.plan = answer.plan
        self.planned.emit(answer.recipe, answer.plan)
