"""Why these amounts: what is out of range and what holds it, what would help, what could go, what a step would do."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.session.asking import Asker
from app.session.session import Session
from app.surfaces.recipe_sheet import EditorSheet
from app.surfaces.why.looking import Answered, look
from app.surfaces.why.working_part import WorkingPart
from app.widgets import theme
from app.widgets.form import Words
from app.widgets.link_button import LinkButton
from app.widgets.steps_table import StepsTable
from app.widgets.told import Line, Offer, Part
from app.wording import editors, goals
from app.wording import why as words
from app.wording import why_sheet as say
from core.blend.why_records import Price, Step, Why
from core.recipe import RecipeError
from core.recipe.records import Recipe

PARTS = ("reasons", "remedy", "spare", "unused")

OF_TARGETS = ("target", "tolerance")

PAGES = {Qt.Key.Key_PageDown: 0.9, Qt.Key.Key_PageUp: -0.9, Qt.Key.Key_Down: 0.1, Qt.Key.Key_Up: -0.1}


class StepsPart(QWidget):
    """A heading over what steps do; takes no room while it holds none."""

    def __init__(self, parent: QWidget, title: str) -> None:
        super().__init__(parent)
        self.setAccessibleName(title)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, theme.px(4), 0, theme.px(6))
        column.setSpacing(theme.px(3))
        head = Words(self, title, muted=False, strong=True)
        head.setFont(theme.font(13, strong=True))
        head.setContentsMargins(theme.px(4), 0, 0, 0)
        self.table = StepsTable(self)
        column.addWidget(head)
        column.addWidget(self.table)
        self.hide()

    def show_prices(self, prices: tuple[Price, ...], currency: str) -> None:
        """Show what one step of these does, as far as it is worth telling."""
        rows = [row for price in prices for row in words.step_rows(price)]
        self.table.show_rows(words.step_heads(currency), rows, say.steps_words(prices, currency))
        self.setVisible(bool(rows))


class WhySheet(EditorSheet):
    """Asks while it is open; an answer that is overtaken is never shown."""

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over, session, editors.title("why"))
        self.goal = Words(self.top)
        self.state = Words(self.top)
        self.top_layout.addWidget(self.goal)
        self.top_layout.addWidget(self.state)
        self.cancel = LinkButton(self.top)
        self.cancel.set_text(say.cancel_button())
        self.cancel.clicked.connect(self._give_up)
        self.top_layout.addWidget(self.cancel, 0, Qt.AlignmentFlag.AlignLeft)
        self.parts = {name: Part(self.body, say.heading(name)) for name in PARTS}
        self.binding = StepsPart(self.body, say.heading("binding"))
        for name, part in self.parts.items():
            if name == "unused":
                self.body_layout.addWidget(self.binding)
            self.body_layout.addWidget(part)
        self.steps_link = LinkButton(self.body, unfolds=True)
        self.steps = StepsPart(self.body, say.heading("prices"))
        self.working = WorkingPart(self.body)
        self.body_layout.addWidget(self.working)
        self.body_layout.addWidget(self.steps_link, 0, Qt.AlignmentFlag.AlignLeft)
        self.body_layout.addWidget(self.steps)
        self.body_layout.addStretch(1)
        self.steps_link.toggled.connect(self._unfold)
        self.steps_link.hide()
        self.asker = Asker(self, session.behind)
        self.asker.answered.connect(self._take)
        self.asker.failed.connect(lambda reason: self._say(say.cannot(reason)))
        self._asked: Recipe | None = None
        self._answered: Answered | None = None

    def begin(self) -> None:
        self.close_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_recipe(self) -> None:
        recipe = self.recipe
        if recipe is self._asked or not recipe.shelf:
            return
        self._asked = recipe
        self.goal.say(say.goal_line(recipe))
        self.asker.ask(lambda stop: look(recipe, stop))
        self._say(say.looking())

    def try_step(self, step: Step) -> None:
        """Make the edit a button offers; it can be undone."""
        from core.blend.steps import apply

        try:
            self.session.push(words.step_edit(step), ("why", step.kind, step.about), apply(self.recipe, step))
        except (RecipeError, ValueError) as error:
            from app.wording.refusals import refusal

            self._say(say.cannot(refusal(error)))

    def _give_up(self) -> None:
        self.asker.cancel()
        self._say(say.given_up())

    def _say(self, text: str) -> None:
        self.cancel.setVisible(self.asker.busy())
        self.state.say(text)
        self.settle()

    def _take(self, answered: Answered) -> None:
        self._answered = answered
        self._say("")
        why, currency = answered.why, answered.recipe.currency
        self.parts["reasons"].show_lines(_reasons(why))
        remedy = why.remedy
        helps: list[Line] = []
        if remedy is not None:
            helps = [(say.remedy_sentence(remedy), self._try(say.try_button(), remedy.step))]
        self.parts["remedy"].show_lines(helps)
        self.parts["spare"].show_lines(
            [(words.spare_text(one, currency), self._try(goals.leave_out_button(), one.step)) for one in why.spare]
        )
        bounds, targets = _bounds_and_targets(why)
        self.binding.show_prices(bounds, currency)
        unused = "\n".join(f"{words.unused_text(one, currency)}." for one in why.unused)
        self.parts["unused"].show_lines([(unused, None)] if unused else [])
        self.steps_link.set_text(say.steps_link(len(targets)))
        self.steps_link.setVisible(bool(targets))
        self._unfold()
        self.working.show_answer(answered)
        self._order_by_tab()

    def _try(self, button: str, step: Step) -> Offer:
        return button, lambda: self.try_step(step)

    def _unfold(self) -> None:
        answered = self._answered
        shown = answered is not None and self.steps_link.isChecked()
        targets = _bounds_and_targets(answered.why)[1] if answered is not None and shown else ()
        self.steps.show_prices(targets, "" if answered is None else answered.recipe.currency)
        self._order_by_tab()
        if not self.steps.isHidden():
            self.show_part(self.steps)

    def _order_by_tab(self) -> None:
        """Let the keyboard walk the answers from the top."""
        stops: list[QWidget] = [self.close_button]
        for name, part in self.parts.items():
            stops += [self.binding.table] if name == "unused" else []
            for told, button in _beside(part):
                stops += [told, *([button] if button is not None else [])]
        stops += [self.working.figure, self.working.unit, self.working.copy, self.working.lines, self.steps_link]
        stops.append(self.steps.table)
        for before, after in zip(stops, stops[1:], strict=False):
            QWidget.setTabOrder(before, after)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        by = PAGES.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            bar = self._scroll.verticalScrollBar()
            bar.setValue(bar.value() + round(by * max(theme.px(40), self._scroll.viewport().height())))


def _bounds_and_targets(why: Why) -> tuple[tuple[Price, ...], tuple[Price, ...]]:
    """Return what a step of the bounds that are reached would do, and what one of the targets would."""
    told = [price for price in why.prices if words.is_told(price)]
    bounds = tuple(price for price in told if price.kind not in OF_TARGETS)
    return bounds, tuple(price for price in told if price.kind in OF_TARGETS)


def _beside(part: Part) -> list[tuple[QWidget, QWidget | None]]:
    """Return every sentence of a part with its button; either all of a part's sentences have one or none has."""
    buttons: list[LinkButton | None] = list(part.buttons) or [None] * len(part.told)
    return list(zip(part.told, buttons, strict=True))


def _reasons(why: Why) -> list[Line]:
    """Return what is off, each with what holds it there."""
    told = [" ".join((words.reason_text(reason), *map(words.cause_text, reason.causes))) for reason in why.reasons]
    return [(text, None) for text in told or [say.nothing_off()]]
