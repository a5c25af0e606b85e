"""The dosing under way: what was stated, every step done so far, and the way back; it knows no widget."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal

from app.session.asking import Asker
from app.wording import feed_surface as say
from app.wording.refusals import refusal
from core.bench.meter import Meter
from core.plan.feeding_records import Asked, Done, Feeding, Step
from core.recipe.records import Recipe, Water

if TYPE_CHECKING:
    from app.session.session import Session
    from core.logbook.records import Logbook
    from core.plan.feed_tanks import FeedTanks
    from core.plan.feeding import Walk
    from core.units.formats import System

FIRST_VOLUME_L = 100.0
"""Volume that stands there until one is typed."""


REMEMBERED = 20
"""Factors read today that are remembered."""


class Using(NamedTuple):
    """Which tanks go into which water: what a factor learned today belongs to."""

    recipe: Recipe
    water: Water | None = None
    batch_id: str = ""


class _Ready(NamedTuple):
    using: Using
    tanks: FeedTanks | None
    factors: dict[str, float] = {}


class Dosing(QObject):
    """Walks through a dosing; whatever changes the tanks, the water or the reservoir begins a new one.

    Signals
    -------
    changed : there is something else to show.
    """

    changed = Signal()

    def __init__(self, parent: QObject, session: Session) -> None:
        super().__init__(parent)
        self.using: Using | None = None
        self.tanks: FeedTanks | None = None
        self.told: Feeding | None = None
        self.fault = ""
        self.meter = Meter()
        self.system: System = "metric"
        self.asked = Asked(FIRST_VOLUME_L, 0.0)
        self.reservoir = ""
        self._wanted_typed = False
        self._walks: list[Walk] = []
        self._learned: dict[str, float] = {}
        self._factors: list[tuple[Using, str, float]] = []
        self.asker = Asker(self, session.behind)
        self.asker.answered.connect(self._take)
        self.asker.failed.connect(self._fail)

    def begun(self) -> bool:
        """Return whether anything was poured or added, so that what was stated stands."""
        return bool(self._walks) and any(
            step.kind not in ("read-start", "read", "read-ph") for step in self._walks[-1].steps
        )

    def may_go_back(self) -> bool:
        """Return whether there is a step to take back."""
        return len(self._walks) > 1

    def use(self, using: Using, logbook: Logbook | None = None) -> None:
        """Take these tanks and this water; the dosing before is given up.

        logbook : where factors of these very tanks in this very water may be learned from
        """
        if self.using is not None and using.recipe.aim != self.using.recipe.aim:
            self._wanted_typed = False
        self.using, self.tanks, self.told, self.fault = using, None, None, ""
        self._walks = []
        self.asked = replace(self.asked, start_ms_per_cm=None, start_ph=None)
        self.asker.ask(lambda _stop: _make(using, logbook))
        self.changed.emit()

    def forget(self) -> None:
        """Give up the dosing and the tanks, and what was typed for them."""
        self.asker.cancel()
        self.using, self.tanks, self.told, self.fault = None, None, None, ""
        self._walks, self._wanted_typed = [], False
        self.asked = Asked(self.asked.volume_l, 0.0)

    def _take(self, answer: object) -> None:
        assert isinstance(answer, _Ready)
        self.tanks = answer.tanks
        self._learned = answer.factors
        if answer.tanks is None:
            self.fault = say.no_tanks()
            self.changed.emit()
            return
        if not self._wanted_typed:
            self.asked = replace(self.asked, wanted_ms_per_cm=answer.tanks.first_wanted_ms_per_cm)
        self.start_over()

    def _fail(self, reason: str) -> None:
        self.fault = reason
        self.changed.emit()

    def start_over(self) -> None:
        """Begin anew with the same tanks, water and figures; a factor read before is kept for them alone."""
        self.asked = replace(self.asked, start_ms_per_cm=None, start_ph=None, factor=self._factor())
        self._walk_anew()

    def _factor(self) -> float:
        """What was read today of these tanks in this water on this meter, else what the diaries say, else 1."""
        known = (factor for using, unit, factor in self._factors if (using, unit) == (self.using, self.meter.unit))
        return next(known, self._learned.get(self.meter.unit, 1.0))

    def _walk_anew(self) -> None:
        if self.tanks is None or self.asked.wanted_ms_per_cm <= 0.0:
            return
        from core.plan.feeding import walk

        self._walks = [walk(self.tanks, replace(self.asked, start_ms_per_cm=None, start_ph=None))]
        if self.asked.start_ms_per_cm is not None:
            start = Done(ec_ms_per_cm=self.asked.start_ms_per_cm, ph=self.asked.start_ph)
            self._walks.append(self._walks[-1].after(start))
        self._tell()

    def state(self, **figures: object) -> None:
        """State another volume, contents or start; it begins anew, and is left alone once something was poured."""
        asked = replace(self.asked, **figures)
        if asked != self.asked and not self.begun():
            self.asked = asked
            self._walk_anew()

    def want(self, **figures: object) -> None:
        """Want another EC or pH, or use another acid; what was done stays."""
        asked = replace(self.asked, **figures)
        self._wanted_typed = self._wanted_typed or "wanted_ms_per_cm" in figures
        if asked == self.asked:
            return
        self.asked = asked
        if self._walks and not self.begun():
            self._walk_anew()
        elif self._walks:
            here = self._walks[-1]
            self._walks.append(here.wanting(replace(here.asked, **figures)))
            self._tell()

    def show_in(self, system: System) -> None:
        """Tell volumes in these units from now on."""
        if system != self.system:
            self.system = system
            self.changed.emit()

    def refuses(self, product: str, strength_percent: float) -> str:
        """Return why a product cannot be had at a strength, or nothing."""
        from core.plan.feed_tanks import ph_product

        if self.tanks is None:
            return ""
        try:
            ph_product(self.tanks.recipe, product, strength_percent)
        except ValueError as error:
            return refusal(error)
        return ""

    def choose_meter(self, meter: Meter) -> None:
        """Read on another meter from now on; readings taken stay what they were."""
        if meter != self.meter:
            self.meter = meter
            if not self.begun():
                self.asked = replace(self.asked, factor=self._factor())
                self._walk_anew()
            self.changed.emit()

    def do(self, done: Done) -> str:
        """Do the present step, as told where the answer leaves something open; return why it cannot be."""
        if not self._walks:
            return ""
        here = self._walks[-1]
        try:
            after = here.after(_in_figures(here.now, done))
        except ValueError as error:  # no feed of these tanks can have this pH
            return refusal(error)
        if here.now.kind == "read-start":
            self.asked = replace(self.asked, start_ms_per_cm=done.ec_ms_per_cm, start_ph=done.ph)
        self._walks.append(after)
        self._tell()
        return ""

    def take_back(self) -> None:
        """Take the last step back."""
        if self.may_go_back():
            self._walks.pop()
            self.asked = self._walks[-1].asked
            self._tell()

    def _tell(self) -> None:
        self.told = self._walks[-1].told()
        if self.told.factor_kept and self.using is not None:
            self._factors = [(self.using, self.meter.unit, self.told.factor), *self._factors[:REMEMBERED]]
        self.changed.emit()


def _in_figures(step: Step, done: Done) -> Done:
    """The step as it was done in figures, so that it stays that even when something else is wanted later."""
    if step.pours and not done.parts_ml:
        return replace(done, parts_ml={pour.name: pour.ml for pour in step.pours})
    if step.drop is not None and done.amount is None:
        return replace(done, amount=step.drop.amount)
    if step.water_l is not None and done.water_l is None:
        return replace(done, water_l=step.water_l)
    return done


def _make(using: Using, logbook: Logbook | None) -> _Ready:
    from core.plan.feed_tanks import NoTanks, feed_tanks

    try:
        tanks = feed_tanks(using.recipe, using.water)
    except NoTanks:
        return _Ready(using, None)
    return _Ready(using, tanks, _factors(using, logbook))


def _factors(using: Using, logbook: Logbook | None) -> dict[str, float]:
    """What the diaries say of these tanks in this water, by meter; only what is to be relied on."""
    if logbook is None or not using.batch_id:
        return {}
    from core.logbook.factors import factor_for

    meters = {entry.meter for reservoir in logbook.reservoirs for entry in reservoir.entries if entry.meter}
    water = using.recipe.water if using.water is None else using.water
    found = {meter: factor_for(logbook, using.batch_id, water.name, meter) for meter in meters}
    return {meter: one.factor for meter, one in found.items() if one.trust == "good"}
