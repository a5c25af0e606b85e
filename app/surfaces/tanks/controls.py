"""How strong, how much, how warm and how cold: the figures of the tanks that are played with, live."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.session.session import Session
from app.surfaces.tanks import changes
from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import DILUTION, TEMPERATURE, VOLUME
from app.wording import surfaces as phrases
from app.wording import tanks as say
from core.plan.records import Plan
from core.recipe import RecipeError
from core.recipe.records import Recipe

FIELDS = {"ratio": DILUTION, "tank_volume_l": VOLUME, "temperature_c": TEMPERATURE, "coldest_c": TEMPERATURE}
BLOCK, FIELD, WATER, GAP = 118, 92, 158, 14
LABEL, TALL, LINE = 22, 26, 28
STEP_C = 1.0


class Controls(QWidget):
    """One panel: fields in as many lines as the width needs, the injector's next step below."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._step: int | None = None
        self.setAccessibleName(say.controls_name())
        self.fields: dict[str, FormField] = {}
        self._labels: dict[QWidget, QLabel] = {}
        for name, measure in FIELDS.items():
            field = self.fields[name] = FormField(self, measure, say.label(name))
            field.typed.connect(lambda value, name=name: self._edit(name, value))
            field.stepped.connect(lambda by, name=name: self._walk(name, -by))
            field.left.connect(lambda name=name: self._show(name))
            self._add_label(name, field)
        self.fields["coldest_c"].set_hint(say.same_as_now())
        self.water = Choice(self, say.label("fill_water"), say.fill_waters())
        self.water.chosen.connect(lambda key: self._edit("fill_water", key))
        self._add_label("fill_water", self.water)
        self._hint = QLabel(self)
        self._hint.setFont(theme.font())
        self.use = LinkButton(self)
        self.use.clicked.connect(lambda: self._edit("ratio", self._step))

    def _add_label(self, name: str, buddy: QWidget) -> None:
        label = self._labels[buddy] = QLabel(say.label(name), self)
        label.setFont(theme.small())
        label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        label.setBuddy(buddy)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the recipe's figures and the plan's next injector step."""
        for name, field in self.fields.items():
            field.set_quantity(changes.value_of(recipe, name))
        self.water.set_key(recipe.tanks.fill_water or "pure")
        ratio = recipe.tanks.ratio
        steps = [tank.injector_step for tank in plan.tanks if tank.clear_ratio is not None]
        self._hint.setText(say.step_hint(steps, ratio))
        known = [step for step in steps if step is not None]
        self._step = min(known) if known and len(known) == len(steps) else None
        offered = self._step is not None and self._step != ratio
        if self._step is not None:
            self.use.set_text(say.use_step(self._step))
        self.use.setVisible(offered)
        self._arrange()

    def _show(self, name: str) -> None:
        if self._session.recipe is not None:
            self.fields[name].set_quantity(changes.value_of(self._session.recipe, name))

    def hint(self) -> str:
        """Return what is said of injector steps."""
        return self._hint.text()

    def _edit(self, name: str, value: object) -> None:
        recipe = self._session.recipe
        if recipe is None or (value is None and name != "coldest_c"):
            return  # emptied to be typed anew
        try:
            self._session.push(say.edit(name), ("tanks", name), changes.with_value(recipe, name, value))
        except RecipeError as error:
            if name in self.fields:
                self.fields[name].refuse(phrases.refused_value(error.what))

    def _walk(self, name: str, by: int) -> None:
        """Up and Down: the next injector ratio, or a degree."""
        recipe = self._session.recipe
        if recipe is None or name == "tank_volume_l":
            return
        if name == "ratio":
            from core.chemistry.concentrates import INJECTOR_RATIOS

            beyond = [step for step in INJECTOR_RATIOS if (step - recipe.tanks.ratio) * by > 0]
            if beyond:
                self._edit(name, float(min(beyond) if by > 0 else max(beyond)))
            return
        now = changes.value_of(recipe, name)
        self._edit(name, (recipe.tanks.temperature_c if now is None else now) + by * STEP_C)

    def height_for(self, width: int) -> int:
        """Return the height it needs at a width [px]."""
        return self._place(width, move=False)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self._place(self.width(), move=True)

    def _place(self, width: int, *, move: bool) -> int:
        pad, gap = theme.px(GAP), theme.px(GAP)
        left, top = pad, theme.px(6)
        parts: list[tuple[QWidget, int]] = [(field, theme.px(FIELD)) for field in self.fields.values()]
        for part, wide in [*parts, (self.water, theme.px(WATER))]:
            block = max(wide, theme.px(BLOCK), self._labels[part].sizeHint().width())
            if left > pad and left + block > width - pad:
                left, top = pad, top + theme.px(LABEL + TALL + 6)
            if move:
                self._labels[part].setGeometry(left, top, block, theme.px(LABEL))
                part.setGeometry(left, top + theme.px(LABEL), wide, part.height())
            left += block + gap
        needed = self._hint.sizeHint().width() + theme.px(4)
        beside = left + needed + self.use.width() + pad <= width
        if beside:
            left, top = left + theme.px(6), top + theme.px(LABEL)
        else:
            left, top = pad, top + theme.px(LABEL + TALL + 4)
        if move:
            self._hint.setGeometry(left, top, min(needed, width - left - pad), theme.px(LINE))
            self.use.move(left + needed, top + (theme.px(LINE) - self.use.height()) // 2)
        return top + theme.px(LINE + (10 if beside else 4))

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        paint.panel(painter, QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
