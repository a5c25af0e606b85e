"""The open recipe: everything that is edited, shown, opened, saved and undone goes through here."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from pathlib import Path as FilePath
from time import monotonic
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from app.session.book import Book
from app.session.edits import Edit, Path, check_edit
from app.session.files import Claim, Elsewhere, OpenFile, same_file, stamp
from app.session.planning import Answer, Planner
from app.session.recovery import Recovery
from app.session.saving import ChangedElsewhere, SaveError, Why, save_recipe
from app.session.slot import Slot
from core.plan.records import Plan
from core.recipe import load
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.session.comparing import Comparing
    from app.session.weighing import Weighing


class Session(QObject):
    """Holds the current recipe, its plan and its file; the only one who changes any of them.

    Signals
    -------
    planned : the recipe and its plan, whenever a new plan is there.
    failed : why the newest recipe has no plan; the last good one stays.
    opened : another recipe was opened; the next plan is its first.
    edited : the recipe is another one by an edit, or by undoing one; its plan follows.
    saved : the recipe was written to its file, which may be another than before.
    """

    planned = Signal(object, object)
    failed = Signal(str)
    opened = Signal()
    edited = Signal()
    saved = Signal()

    def __init__(
        self,
        planner: Planner | None = None,
        clock: Callable[[], float] = monotonic,
        recovery: Recovery | None = None,
    ) -> None:
        super().__init__()
        self.recipe: Recipe | None = None
        self.plan: Plan | None = None
        self._planned_for: Recipe | None = None
        self.edits = QUndoStack(self)
        self.recovery = recovery
        self._file: OpenFile | None = None
        self._clock = clock
        self._planner = planner or Planner()
        self._planner.setParent(self)
        self._planner.answered.connect(self._take_answer)
        if recovery is not None:
            recovery.setParent(self)
        self.edits.indexChanged.connect(self._keep_copy)
        self.edits.cleanChanged.connect(self._keep_copy)

    @property
    def shown(self) -> tuple[Recipe, Plan] | None:
        """The newest plan and the recipe it is of, which an edit may have overtaken; they are shown together only."""
        if self._planned_for is None or self.plan is None:
            return None
        return self._planned_for, self.plan

    @property
    def path(self) -> FilePath | None:
        """The file the recipe lies in, or None where it was never saved."""
        return None if self._file is None else self._file.path

    @property
    def unsaved(self) -> bool:
        """Whether the recipe differs from its file."""
        return not self.edits.isClean()

    @cached_property
    def book(self) -> Book:
        """The logbook, opened when it is first looked at."""
        book = Book()
        book.setParent(self)
        book.open_own()
        return book

    @cached_property
    def weighing(self) -> Weighing:
        """The weighing of the open recipe's batch, read when it is first looked at."""
        from app.session.weighing import Weighing

        return Weighing(self)

    @cached_property
    def comparing(self) -> Comparing:
        """The variants set beside the recipe, from when they are first looked at."""
        from app.session.comparing import Comparing

        return Comparing(self)

    def open(self, path: FilePath) -> None:
        """Open a recipe file in place of the current recipe.

        Raises
        ------
        RecipeError : the file is refused; everything stays as it was.
        """
        path = path.absolute()
        read_at, recipe = stamp(path), load(path)
        self._begin(recipe, OpenFile(path, recipe, read_at, self._own_claim(path)))

    def start(self, recipe: Recipe, plan: Plan | None = None) -> None:
        """Begin with a recipe that lies in no file, showing its plan at once where it is already known."""
        self._begin(recipe, None, plan)

    def start_unsaved(self, recipe: Recipe) -> None:
        """Begin with a recipe that was made here and lies in no file yet; leaving it asks whether to save."""
        self._begin(recipe, None)
        self.edits.resetClean()

    def restore(self, recipe: Recipe, slot: Slot) -> None:
        """Begin with unsaved work another window left; its copy becomes ours."""
        origin = slot.origin()
        found = origin is not None and origin.is_file()
        self._begin(recipe, OpenFile(origin, None, claim=self._own_claim(origin)) if origin and found else None)
        if self.recovery is not None:
            self.recovery.adopt(slot)
        self.edits.resetClean()

    def save(self, path: FilePath | None = None, *, over: bool = False) -> None:
        """Write the recipe to its file, or to this one, which becomes its file.

        Parameters
        ----------
        path : the file to write; None is the recipe's own.
        over : whether to write over what another program put into the recipe's own file.

        Raises
        ------
        SaveError : nothing was written.
        ChangedElsewhere : the recipe's own file is no longer what was opened; nothing was written.
        """
        target = self.path if path is None else path.absolute()
        assert self.recipe is not None, "nothing to save"
        assert target is not None, "the recipe has no file yet"
        claim = self._own_claim(target)
        if claim is None:
            self._save_elsewhere(target, self.recipe)
            return
        if not over and self._file is not None and self._file.look() is Elsewhere.CHANGED:
            raise ChangedElsewhere
        save_recipe(target, self.recipe)
        self._lies_in(OpenFile(target, self.recipe, claim=claim))

    def push(self, label: str, path: Path, recipe: Recipe) -> None:
        """Make an edit that can be undone.

        Parameters
        ----------
        label : what the edit is called in the menu.
        path : the field it touches; edits of one field within a second count as one.

        Raises
        ------
        RecipeError : the recipe would not be one; nothing changes. An empty shelf is let through: it has no plan and
            cannot be saved, but is a step on the way to another shelf.
        """
        if self.recipe is None or recipe == self.recipe:
            return
        check_edit(recipe, self.recipe)
        at_s, last = self._clock(), self._last_edit()
        if last is None or not last.goes_on(path, at_s):
            self.edits.push(Edit(self._take, label, path, self.recipe, recipe, at_s))
            return
        last.go_on(recipe, at_s)
        if last.isObsolete():
            self.edits.undo()  # which removes it
        else:
            self.edits.indexChanged.emit(self.edits.index())

    def verify(self) -> None:
        """Plan the current recipe anew: loads the engine and replaces a plan that was shipped or stored."""
        if self.recipe is not None:
            self._want_plan(self.recipe)

    def elsewhere(self) -> Elsewhere:
        """Return what became of the recipe's file behind our back; one that is gone counts as unsaved."""
        found = Elsewhere.NOTHING if self._file is None else self._file.look()
        if found is Elsewhere.GONE:
            self.edits.resetClean()
        return found

    def open_twice(self) -> bool:
        """Return whether another window of the program has the recipe's file open."""
        return self._file is not None and self._file.claim.taken_elsewhere()

    def keep_mine(self) -> None:
        """Leave the file as another program made it, until the next saving writes over it."""
        if self._file is not None:
            self._file.accept()
            self.edits.resetClean()

    def behind(self, work: Callable[[], None]) -> None:
        """Do a piece of work behind the window; it answers by a signal and raises nothing."""
        self._planner.behind(work)

    def close(self) -> None:
        """End the work behind the window, and let go of the file; unsaved work is given up."""
        self._planner.close()
        if self.recovery is not None:
            self.recovery.close()
        self._exchange_file(None)

    def _begin(self, recipe: Recipe, file: OpenFile | None, plan: Plan | None = None) -> None:
        self._planner.withdraw()
        self._exchange_file(file)
        self.recipe, self.plan = recipe, plan
        self._planned_for = None if plan is None else recipe
        self.edits.clear()
        self.opened.emit()
        if plan is None:
            self._want_plan(recipe)
        else:
            self.planned.emit(recipe, plan)

    def _save_elsewhere(self, target: FilePath, recipe: Recipe) -> None:
        """Write a file that is not the recipe's own yet; one that is open in another window stays as it is."""
        claim = Claim(target)
        if claim.taken_elsewhere():
            raise SaveError(target, Why.OPEN_ELSEWHERE)
        try:
            save_recipe(target, recipe)
        except SaveError:
            claim.release()
            raise
        self._lies_in(OpenFile(target, recipe, claim=claim))

    def _lies_in(self, file: OpenFile) -> None:
        self._exchange_file(file)
        self.edits.setClean()
        self._keep_copy()
        self.saved.emit()

    def _last_edit(self) -> Edit | None:
        """Return the newest edit, unless it was taken back or saved."""
        index = self.edits.index()
        if index == 0 or index < self.edits.count() or index == self.edits.cleanIndex():
            return None
        last = self.edits.command(index - 1)
        return last if isinstance(last, Edit) else None

    def _exchange_file(self, file: OpenFile | None) -> None:
        if self._file is not None and (file is None or self._file.claim is not file.claim):
            self._file.release()
        self._file = file

    def _own_claim(self, path: FilePath) -> Claim | None:
        return self._file.claim if self._file is not None and same_file(path, self.path) else None

    def _take(self, recipe: Recipe) -> None:
        self.recipe = recipe
        self._want_plan(recipe)
        self.edited.emit()

    def _want_plan(self, recipe: Recipe) -> None:
        """Have the recipe planned, unless there is nothing on its shelf to plan with."""
        if recipe.shelf:
            self._planner.ask(recipe)
        else:
            self._planner.withdraw()
            self.plan = self._planned_for = None

    def _keep_copy(self) -> None:
        if self.recovery is None or self.recipe is None:
            return
        if self.unsaved:
            self.recovery.keep(self.recipe, self.path)
        else:
            self.recovery.drop()

    def _take_answer(self, answer: Answer) -> None:
        if answer.plan is None:
            self.failed.emit(answer.fault)
            return
        self.plan, self._planned_for = answer.plan, answer.recipe
        self.planned.emit(answer.recipe, answer.plan)
