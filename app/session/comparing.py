"""The variants set beside the open recipe: which are held, and their comparison, worked out behind the window."""

from __future__ import annotations

from dataclasses import replace as with_fields
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.session import adapting, side_by_side
from app.session.asking import Asker
from app.session.side_by_side import Column, Held, Looked
from core.recipe import load
from core.recipe.records import Recipe, Water

if TYPE_CHECKING:
    from app.session.session import Session
    from core.plan.costing import Use

GOALS = ("closest", "cheapest", "fewest")


class Comparing(QObject):
    """Variants live as long as the window; none of them changes the recipe.

    Signals
    -------
    changed : what is held is other than before; the comparison follows.
    looked : a `Looked` of what is held now.
    sensed : a `Sensitivity` of the variant last asked about.
    failed : why there is no comparison, or why a recipe could not be adapted.
    busy_changed : whether something is being worked out.
    """

    changed = Signal()
    looked = Signal(object)
    sensed = Signal(object)
    failed = Signal(str)
    busy_changed = Signal(bool)

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self._session = session
        self.held: tuple[Held, ...] = (Held(0, "open"),)
        self.found: Looked | None = None
        self.use: Use | None = None
        self._number = 0
        self._looked_at: tuple[object, ...] = ()
        self._shown_with: tuple[Held, ...] = self.held
        self.looker = Asker(self, session.behind)
        self.maker = Asker(self, session.behind)
        self.senser = Asker(self, session.behind)
        self.looker.answered.connect(self._take)
        self.maker.answered.connect(self._take_adapted)
        self.senser.answered.connect(self.sensed)
        for asker in (self.looker, self.maker):
            asker.failed.connect(self.failed)
            asker.busy_changed.connect(lambda _busy: self.busy_changed.emit(self.busy()))

    def busy(self) -> bool:
        """Return whether something is being worked out."""
        return self.looker.busy() or self.maker.busy()

    def refresh(self) -> None:
        """Compare what is held with the open recipe as it is now, unless that is done already."""
        opened = self._session.recipe
        if opened is not None:
            self.held = _other_goals(self.held, opened.goal)
        asked = (self.held, opened, self.use)
        if opened is None or not opened.shelf or asked == self._looked_at:
            return
        self._looked_at = asked
        held, use, before = self.held, self.use, self.found
        self.looker.ask(lambda stop: side_by_side.look(held, opened, use, before, stop))

    def sense(self, column: Column) -> None:
        """Ask what prices and tolerances would do to a variant."""
        self.senser.ask(lambda _stop: side_by_side.sensitivity(column))

    def cancel(self) -> None:
        """Give up what is being worked out; variants that were never shown go again."""
        self.maker.cancel()
        if self.looker.busy():
            self.looker.cancel()
            self._looked_at = ()
            self._hold(self._shown_with, ask=False)

    def set_use(self, use: Use | None) -> None:
        """Count bags and costs for this much feed; None is one filling of the open recipe's tanks."""
        self.use = use
        self.refresh()

    def keep(self, name: str) -> int:
        """Keep the open recipe as it is now under a name, and return the variant's number."""
        assert self._session.recipe is not None, "nothing to keep"
        return self._add(Held(self._next(), "kept", name, self._session.recipe))

    def add_goals(self) -> None:
        """Hold the open recipe for each goal other than its own; they follow the recipe when it is edited."""
        there = {held.goal for held in self.held}
        own = "" if self._session.recipe is None else self._session.recipe.goal
        new = [Held(self._next(), "goal", goal=goal) for goal in GOALS if goal not in there and goal != own]
        if new:
            self._hold((*self.held, *new))

    def add_file(self, path: Path) -> int:
        """Hold the recipe in a file, read anew where it is held already, and return its number.

        Raises
        ------
        RecipeError : the file is refused.
        """
        path = path.absolute()
        recipe = load(path)
        others = tuple(held for held in self.held if held.path != path)
        held = Held(self._next(), "file", recipe=recipe, path=path)
        self._hold((*others, held))
        return held.number

    def adapt(self, crop_id: str, water: Water | None, *, tanks: bool) -> None:
        """Hold the open recipe for another crop, water or from its own tanks as soon as it is made; see `adapting`."""
        recipe = self._session.recipe
        if recipe is not None:
            self.maker.ask(lambda stop: adapting.adapted(recipe, crop_id, water, tanks=tanks, stop=stop))

    def rename(self, number: int, name: str) -> None:
        """Call a variant by another name."""
        self._hold(tuple(with_fields(h, name=name) if h.number == number else h for h in self.held))

    def saved(self, number: int, path: Path) -> None:
        """Take note that a variant lies in this file now."""
        self._hold(tuple(with_fields(h, path=path) if h.number == number else h for h in self.held))

    def remove(self, number: int) -> None:
        """Hold a variant no more; the open recipe always stays."""
        if number:
            self._hold(tuple(held for held in self.held if held.number != number))

    def exchange(self, number: int, name: str, recipe: Recipe, path: Path | None) -> None:
        """Keep what was the recipe, and its file, in place of the variant that is the recipe now."""
        kept = Held(self._next(), "kept", name, recipe, path=path)
        self._hold(tuple(kept if held.number == number else held for held in self.held))

    def _take_adapted(self, made: adapting.Made) -> None:
        """Hold what was adapted."""
        from app.wording.compare import adapted_remarks

        adapted = made.adapted
        doses = {dose.entry_id: dose.ml_per_l for dose in adapted.doses}
        remarks = tuple(adapted_remarks(adapted))
        self._add(Held(self._next(), "adapted", made.about, adapted.recipe, remarks=remarks, doses_ml_per_l=doses))

    def next_variant(self) -> int:
        """Return which variant of those kept the next one is, counted from 1."""
        return 1 + sum(held.kind == "kept" for held in self.held)

    def _next(self) -> int:
        self._number += 1
        return self._number

    def _add(self, held: Held) -> int:
        self._hold((*self.held, held))
        return held.number

    def _hold(self, held: tuple[Held, ...], *, ask: bool = True) -> None:
        self.held = held
        self.changed.emit()
        if ask:
            self.refresh()

    def _take(self, found: Looked) -> None:
        self.found, self._shown_with = found, tuple(column.held for column in found.columns)
        self.looked.emit(found)


def _other_goals(held: tuple[Held, ...], own: str) -> tuple[Held, ...]:
    """Return what is held with no variant for the open recipe's own goal: it stands for a goal not yet seen instead."""
    missing = [goal for goal in GOALS if goal != own and goal not in {one.goal for one in held}]
    return tuple(with_fields(one, goal=missing.pop(0)) if one.goal == own and missing else one for one in held)
