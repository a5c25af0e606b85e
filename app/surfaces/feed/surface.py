"""Dosing at the left step by step, the curve and the pH at its right; topping up and the injector in its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

from app.session.clock import now_text
from app.session.session import Session
from app.surfaces.feed.choosing import Choosing
from app.surfaces.feed.controls import Controls
from app.surfaces.feed.curve_card import CurveCard
from app.surfaces.feed.diary_card import DiaryCard
from app.surfaces.feed.dosing import Dosing
from app.surfaces.feed.ph_card import PhCard
from app.surfaces.feed.steps_card import StepsCard
from app.widgets import theme
from app.widgets.slim_bar import slim
from app.widgets.strip import Strip
from app.wording import feed_surface as say
from app.wording import surfaces as phrases
from core.plan.feeding_records import Done
from core.plan.records import Plan
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from app.surfaces.feed.injector_page import InjectorPage
    from app.surfaces.feed.topup_page import TopUpPage

MARGIN, TWO_FROM, LEFT_SHARE = 14, 820, 0.43
LEAST_STEPS, LEAST_LOWER = 420, 190


class FeedSurface(QWidget):
    """Shows the dosing and does what is pressed; a finished one is written into a diary of the logbook."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._mode = "dose"
        self._crop = ""
        self.setAccessibleName(phrases.surface("feed"))
        self.dosing = Dosing(self, session)
        self.choosing = Choosing(session, self.dosing)
        self._scroll = QScrollArea(self)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self._scroll)
        self._page = QWidget()
        self._scroll.setWidget(self._page)
        self.controls = Controls(self._page, self.dosing)
        self.controls.chosen.connect(self._choose)
        self.controls.mode_chosen.connect(self.show_mode)
        self.notice = Strip(self._page)
        self.notice.accepted.connect(self._use_new_recipe)
        self.told = Strip(self._page, level="met")
        self.steps = StepsCard(self._page, self.dosing)
        self.steps.now.done.connect(self._do)
        self.steps.now.written.connect(lambda _name: self._start_over())
        self.steps.now.writing.wanted.connect(self._write)
        self.steps.back_wanted.connect(self._take_back)
        self.steps.over_wanted.connect(self._start_over)
        self.curve = CurveCard(self._page, self.dosing)
        self.ph = PhCard(self._page, self.dosing)
        self.diary = DiaryCard(self._page)
        self.topup: TopUpPage | None = None
        self.injector: InjectorPage | None = None
        self.dosing.changed.connect(self._show)
        session.opened.connect(self._forget)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the recipe's tanks; a dosing under way goes on with the tanks as they stood."""
        del plan
        self.choosing.show_book()
        self._fill_choices()
        using, now = self.dosing.using, self.choosing.using(recipe)
        if using is None or (using != now and not self.dosing.begun()):
            self.dosing.use(now, self.choosing.logbook)
        changed = using is not None and using != now and self.dosing.begun() and not using.batch_id
        self.notice.say(say.recipe_changed() if changed else "", say.with_new_recipe() if changed else "")
        self._show()

    def _forget(self) -> None:
        """Another recipe was opened: nothing of the last dosing is this one's."""
        self.choosing.forget()
        self.told.say("")
        self.dosing.forget()

    def show_mode(self, mode: str) -> None:
        """Show dosing, topping up, or the injector."""
        self._mode = mode
        self.controls.show_mode(mode)
        if mode == "topup" and self.topup is None:
            from app.surfaces.feed.topup_page import TopUpPage

            self.topup = TopUpPage(self._page, self.dosing)
            self.topup.dose_wanted.connect(self._dose_filled)
            self.topup.layout_wanted.connect(self._arrange)
        if mode == "injector" and self.injector is None:
            from app.surfaces.feed.injector_page import InjectorPage

            self.injector = InjectorPage(self._page, self.dosing)
        self._show()

    def _dose_filled(self, volume_l: float) -> None:
        """Go on with what was filled up: it holds feed, and is read first."""
        self.dosing.start_over()
        self.dosing.state(volume_l=volume_l, volume_is="start", holds="feed")
        self.show_mode("dose")
        self.follow()

    def mode(self) -> str:
        """Return what is being done."""
        return self._mode

    def _choose(self, which: str, key: str) -> None:
        self.choosing.choose(which, key)
        recipe = self._session.recipe
        if recipe is not None:
            self.dosing.reservoir = self.choosing.reservoir
            self.told.say("")
            self.dosing.use(self.choosing.using(recipe), self.choosing.logbook)
            if which == "reservoir" and self.choosing.chosen() is not None:
                self.dosing.state(volume_l=self.choosing.volume_l())
        self._fill_choices()
        self._show()

    def _fill_choices(self) -> None:
        for name, choice in self.controls.choices.items():
            choice.set_pairs(self.choosing.pairs(name))
            choice.set_key(self.choosing.key(name))
        self.steps.now.writing.set_reservoirs(self.choosing.names())

    def _use_new_recipe(self) -> None:
        if self._session.recipe is not None:
            self.notice.say("")
            self.dosing.use(self.choosing.using(self._session.recipe), self.choosing.logbook)

    def _do(self, done: Done) -> None:
        self.told.say("")
        refused = self.dosing.do(done)
        if refused:
            self.steps.now.refuse(refused)
        else:
            self.follow()

    def _take_back(self) -> None:
        self.dosing.take_back()
        self.follow()

    def _start_over(self) -> None:
        self.dosing.start_over()
        self.follow()

    def follow(self) -> None:
        """Put the keyboard on the step that is due now, in view."""
        self.steps.now.take_keyboard()
        self.steps.keep_in_view()
        self._scroll.ensureWidgetVisible(self.steps.now, 0, theme.px(MARGIN))

    def _write(self, name: str, new: bool) -> None:
        if self.dosing.told is None:
            return
        refused = self.choosing.write(name, new, self.dosing.told, now_text())
        if refused:
            self.steps.now.refuse(refused)
            return
        self.dosing.reservoir = name
        self._fill_choices()
        self.told.say(say.written(name))
        self.dosing.start_over()
        self.follow()

    def _show(self) -> None:
        dosing, recipe = self.dosing, self._session.recipe
        self.controls.show_state()
        blank = dosing.fault or say.working()
        dose, mode = self._mode == "dose", self._mode
        for part in (self.steps, self.curve, self.ph, self.diary):
            part.setVisible(dose)
        if dose:
            self.steps.show_told(dosing.told, blank)
            self.curve.show_told(self.choosing.crop(recipe))
            self.ph.show_told()
            self.diary.show_reservoir(self.choosing.chosen(), dosing.system)
        for name, page in (("topup", self.topup), ("injector", self.injector)):
            if page is not None:
                page.setVisible(mode == name)
                if mode == name:
                    page.show_tanks()
        self._arrange()

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        """Lay everything out; where it does not fit the head scrolls with the rest, so that the step has the room."""
        width, margin, gap = self.width(), theme.px(MARGIN), theme.px(theme.GAP)
        self._scroll.setGeometry(0, 0, width, self.height())
        top = self.controls.height_for(width)
        self.controls.setGeometry(0, 0, width, top)
        for strip in (self.notice, self.told):
            high = strip.height_for(width - 2 * margin)
            if high:
                strip.setGeometry(margin, top + gap // 2, width - 2 * margin, high)
                top += high + gap // 2
        inner = QRect(margin, top + margin, width - 2 * margin, self.height() - top - 2 * margin)
        if self._mode == "dose":
            below = self._lay_dose(inner, gap)
        else:
            page = self.topup if self._mode == "topup" else self.injector
            assert page is not None, "the mode's page is built when it is chosen"
            high = max(page.height_for(inner.width()), inner.height())
            page.setGeometry(inner.left(), inner.top(), inner.width(), high)
            below = inner.top() + high
        self._page.resize(width, below + margin)

    def _lay_dose(self, inner: QRect, gap: int) -> int:
        """Steps at the left, the rest at their right; one below the other where the window is narrow."""
        if inner.width() < theme.px(TWO_FROM):
            return self._stack(inner, gap)
        left = max(round(inner.width() * LEFT_SHARE), theme.px(LEAST_STEPS))
        right = inner.width() - left - gap
        start, half = inner.left() + left + gap, (right - gap) // 2
        lower = max(self.ph.least_height(half), self.diary.least_height(half), theme.px(LEAST_LOWER))
        high = max(inner.height(), self.curve.least_height(right) + gap + lower)
        self.steps.setGeometry(inner.left(), inner.top(), left, high)
        self.curve.setGeometry(start, inner.top(), right, high - gap - lower)
        self.ph.setGeometry(start, inner.top() + high - lower, half, lower)
        self.diary.setGeometry(start + half + gap, inner.top() + high - lower, right - half - gap, lower)
        return inner.top() + high

    def _stack(self, inner: QRect, gap: int) -> int:
        top = inner.top()
        for part in (self.steps, self.curve, self.ph, self.diary):
            high = part.least_height(inner.width())
            part.setGeometry(inner.left(), top, inner.width(), high)
            top += high + gap
        return top
