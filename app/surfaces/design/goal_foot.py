"""What is said of the goal below the salts: why it came out so, what could be left out, and the way to "why?"."""

from __future__ import annotations

from typing import NamedTuple

from msgspec import structs
from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.session.asking import Asker, Stop
from app.session.session import Session
from app.widgets import theme
from app.widgets.link_button import LinkButton
from app.wording import goals as say
from core.plan.records import Plan
from core.recipe.records import Recipe

QUIET_MS = 700
"""How long nothing is typed before it is looked at what could be left out: no keystroke waits for it."""


class Said(NamedTuple):
    """A sentence, the same ever more briefly, what its button says, also where no sentence fits, and does.

    `act`: "prices", a shelf entry to leave out, or "".
    """

    text: str
    briefer: tuple[str, ...] = ()
    button: str = ""
    alone: str = ""
    act: str = ""


class GoalFoot(QWidget):
    """One sentence with its button, and the link.

    Signals
    -------
    prices_wanted, why_wanted : where its buttons lead.
    """

    prices_wanted = Signal()
    why_wanted = Signal()

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._said, self._begun = Said(""), False
        self._recipe: Recipe | None = None
        self._words = QLabel(self)
        self._words.setFont(theme.small())
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self._words.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.button = LinkButton(self)
        self.button.clicked.connect(self._act)
        self.why = LinkButton(self)
        words, tip = say.why_link()
        self.why.set_text(words)
        self.why.setToolTip(tip)
        self.why.setAccessibleDescription(tip)
        self.why.clicked.connect(self.why_wanted)
        self.asker = Asker(self, session.behind)
        self.asker.answered.connect(self._offer)
        self._quiet = QTimer(self)
        self._quiet.setSingleShot(True)
        self._quiet.setInterval(QUIET_MS)
        self._quiet.timeout.connect(self.look)
        self._show(Said(""))

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Say what there is to say of the plan; what could be left out is looked for once nobody types."""
        note = _note(plan)
        if note.text:
            self._recipe = None
            self._settle()
            self._show(note)
        elif recipe is not self._recipe:
            self._recipe = recipe
            self._settle()
            self._show(Said(""))
            if recipe.goal != "fewest" and all(row.verdict in ("met", "fine") for row in plan.rows):
                self._quiet.start()

    def look(self) -> None:
        """Look for what could be left out."""
        recipe = self._recipe
        if recipe is not None:
            self.asker.ask(lambda stop: _spares(recipe, stop))

    def text(self) -> str:
        """Return what is said, in full."""
        return self._said.text

    def _settle(self) -> None:
        self._quiet.stop()
        self.asker.cancel()

    def _offer(self, found: object) -> None:
        from core.blend.why_records import Spare  # by now the engine is loaded

        if isinstance(found, Spare) and self._recipe is not None:
            from app.wording.why import spare_text

            briefer = (spare_text(structs.replace(found, cost_change_per_1000_l=None)), say.spare_brief(found.entry_id))
            text = spare_text(found, self._recipe.currency)
            self._show(Said(text, briefer, say.leave_out_button(), say.spare_alone(), found.entry_id))

    def _show(self, said: Said) -> None:
        if said == self._said and self._begun:
            return
        self._said, self._begun = said, True
        self.button.setAccessibleDescription(said.text)
        self.button.setVisible(bool(said.button))
        self._words.setToolTip(said.text)
        self._words.setAccessibleName(said.text)
        self._arrange()

    def _act(self) -> None:
        if self._said.act == "prices":
            self.prices_wanted.emit()
        elif self.button.text() != self._said.button:
            self.why_wanted.emit()
        elif self._session.recipe is not None:
            from app.wording.why import step_edit
            from core.blend.steps import apply
            from core.blend.why_records import Step

            step = Step("drop-entry", self._said.act)
            self._session.push(step_edit(step), ("goal", "leave out", step.about), apply(self._session.recipe, step))

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        """Say as much as there is room for; where no sentence fits the button says what is to be had."""
        self.button.set_text(self._said.button)
        room = self._place_links()
        fitting = (text for text in (self._said.text, *self._said.briefer) if self._fits(text, room))
        words = next(fitting, "")
        self._words.setText(words)
        self._words.setVisible(bool(words))
        if not words and self._said.alone:
            self.button.set_text(self._said.alone)
            room = self._place_links()
        self._words.setGeometry(0, 0, room, self.height())

    def _fits(self, text: str, room: int) -> bool:
        lines = self.height() // theme.small().height()
        if theme.small().width(text) <= room:
            return True
        self._words.setText(text)
        return lines > 1 and 0 < self._words.heightForWidth(max(1, room)) <= self.height()

    def _place_links(self) -> int:
        """Place what can be pressed at the right and return the room left of it [px]."""
        right, height = self.width(), self.height()
        for link in (self.why, self.button):
            size = link.sizeHint()
            if link is self.why or self._said.button:
                right -= size.width()
                link.setGeometry(right, (height - size.height()) // 2, size.width(), size.height())
        return max(0, right - theme.px(6))


def _note(plan: Plan) -> Said:
    for caution in plan.cautions:
        text = say.goal_note(caution)
        if text:
            return Said(text, (), say.prices_button(), "", "prices") if caution.code in say.PRICES_HELP else Said(text)
    return Said("")


def _spares(recipe: Recipe, _stop: Stop) -> object:
    """Return the salt that is done without most easily, or None."""
    from core.blend.remedies import spares
    from core.plan import solve

    return next(iter(spares(solve(recipe))), None)
