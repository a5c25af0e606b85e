"""Turns recipes into plans: at once where that is quick, else behind the window, and only ever the newest."""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import thread_time

from PySide6.QtCore import QObject, Qt, Signal, Slot

from app.session.worker import Work, Worker
from core.blend.stopping import stopping
from core.plan.records import Plan
from core.recipe import check
from core.recipe.records import Recipe

QUICK_S = 0.016
"""A plan of its kind that took no longer is made in the window's own thread: it is shown sooner than by handing it
over. That is as long as a frame; one that holds the window up for longer would be noticed."""

SEARCHED = frozenset({"fewest"})
"""Goals whose search may take long for any recipe, however quick it was for the last: never in the window's thread."""

Solve = Callable[[Recipe], Plan]


def solve(recipe: Recipe) -> Plan:
    """Return the recipe's plan; the first call loads the numerical libraries.

    Raises
    ------
    RecipeError : the shelf is empty.
    """
    from core.plan import plan

    if not recipe.shelf:
        check(recipe)
    return plan(recipe)


def load_engine() -> None:
    """Load what a plan needs, so that the first one is timed without it."""
    import core.plan  # noqa: F401


class Answer:
    """What became of one request: a plan or a fault, and how much work it was [s of its own thread].

    Other programs and threads count not: to hand a plan over does not make a busy computer any quicker.
    """

    def __init__(self, make: Solve, recipe: Recipe) -> None:
        self.recipe = recipe
        self.plan: Plan | None = None
        self.fault = ""
        started = thread_time()
        try:
            self.plan = make(recipe)
        except Exception as error:  # noqa: BLE001  # the window outlives any fault and keeps the last good plan
            from app.session.journal import journal  # needed for faults only
            from app.wording.refusals import refusal

            journal().info("no plan", exc_info=error)
            self.fault = refusal(error) or type(error).__name__
        self.seconds = thread_time() - started


class Planner(QObject):
    """Plans the newest recipe it was asked for, once per turn of the event loop.

    Signals
    -------
    answered : an `Answer` to the newest request; answers overtaken by a newer request are dropped.
    """

    answered = Signal(object)
    _due = Signal()
    _returned = Signal(int, object)

    def __init__(self, make: Solve = solve, warm: Callable[[], None] = load_engine, *, held: bool = False) -> None:
        super().__init__()
        self._make = make
        self._warm = warm
        self._quick: set[tuple[object, ...]] = set()
        self._held = held
        self._busy = False
        self._writes_behind = False
        self._number = 0
        self._recipe: Recipe | None = None
        self._worker = Worker("planner")
        self._asked = False
        # Queued, it comes after the keys that wait already and before the next frame: what was typed and what follows
        # from it are painted together, and only once.
        self._due.connect(self._begin, Qt.ConnectionType.QueuedConnection)
        self._returned.connect(self._take_back)

    def ask(self, recipe: Recipe) -> None:
        """Ask for the plan of this recipe; it overtakes every earlier request."""
        self._recipe = recipe
        self._number += 1
        if not self._held:
            self._begin_soon()

    def idle(self) -> bool:
        """Return whether nothing is asked for that has not been answered."""
        return not self._busy and not self._asked

    def behind(self, work: Work) -> None:
        """Do other work behind the window, in the same thread, after what was asked for before; it raises nothing."""
        self._worker.do(work)

    def release(self) -> None:
        """Begin with what was asked for so far; a planner made `held` waits for this."""
        self._held = False
        if self._recipe is not None:
            self._begin_soon()

    def withdraw(self) -> None:
        """Drop the request under way, if any: its answer is no longer wanted."""
        self._asked = False
        self._recipe = None
        self._number += 1

    def close(self) -> None:
        """Wait for work under way and answer no more."""
        self.withdraw()
        chemistry = sys.modules.get("core.chemistry.equilibrium_one")
        if chemistry is not None:
            chemistry.write_behind(None)
        self._worker.close()

    def _write_behind(self) -> None:
        """Let the chemistry write its equations out behind the window, where no key waits for it."""
        chemistry = sys.modules.get("core.chemistry.equilibrium_one")
        if chemistry is not None and not self._writes_behind:
            self._writes_behind = True
            chemistry.write_behind(self.behind)

    def _begin_soon(self) -> None:
        if not self._asked:
            self._asked = True
            self._due.emit()

    @Slot()
    def _begin(self) -> None:
        asked, recipe = self._asked, self._recipe
        self._asked = False
        if not asked or recipe is None or self._busy:
            return
        if _kind(recipe) in self._quick:
            self._settle(Answer(self._make, recipe))
        else:
            self._hand_over(self._number, recipe)

    def _hand_over(self, number: int, recipe: Recipe) -> None:
        self._busy = True

        def work() -> None:
            self._warm()
            self._write_behind()
            with stopping(lambda: number != self._number):  # a search nobody waits for any more ends with what it has
                self._returned.emit(number, Answer(self._make, recipe))

        self._worker.do(work)

    @Slot(int, object)
    def _take_back(self, number: int, answer: Answer) -> None:
        self._busy = False
        if number == self._number:
            self._settle(answer)
        else:
            self._learn(answer)
            self._begin_soon()

    def _settle(self, answer: Answer) -> None:
        self._learn(answer)
        self.answered.emit(answer)

    def _learn(self, answer: Answer) -> None:
        """Remember how long this kind of recipe takes; a goal, a salt or a tank more is another kind."""
        kind = _kind(answer.recipe)
        if answer.seconds <= QUICK_S and answer.recipe.goal not in SEARCHED:
            self._quick.add(kind)
        else:
            self._quick.discard(kind)


def _kind(recipe: Recipe) -> tuple[object, ...]:
    """Return what decides how much work a plan is."""
    aim, tanks = recipe.aim, recipe.tanks
    named = tuple(target.nutrient for target in aim.targets)
    asked = (aim.ph is None, aim.ec_ms_per_cm is None, recipe.second_water is None)
    return (recipe.goal, len(recipe.shelf), named, len(aim.limits), asked, tanks.count, len(tanks.pins))
