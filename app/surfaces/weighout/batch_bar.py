"""How large a batch is, typed in the way it is known: a tank's volume, feed to make, days of use, a bag at hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import structs
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.form_field import FormField
from app.widgets.laid_card import Text
from app.widgets.measure import NUMBER, PACK, VOLUME
from app.wording import salt_name
from app.wording import surfaces as phrases
from app.wording import weighout as say
from core.bench import batch_size
from core.recipe import RecipeError

if TYPE_CHECKING:
    from app.session.session import Session
    from core.plan.records import Plan
    from core.recipe.records import Recipe

FIELD, TALL, GAP, PAD, TOP = 84, 26, 8, 14, 9
WAYS = {"tank": ("tank",), "feed": ("feed",), "days": ("a_day", "days"), "bag": ("bag",)}


class BatchBar(QWidget):
    """One edit of the recipe's tank volume whatever way it is typed; the other ways follow it."""

    def __init__(self, parent: QWidget, session: Session) -> None:
        super().__init__(parent)
        self._session = session
        self._shown: tuple[Recipe, Plan] | None = None
        self._makes, self._entry = "", ""
        self.way = Choice(self, say.size_name(), say.size_ways())
        self.way.chosen.connect(self._choose_way)
        self.fields = {
            "tank": FormField(self, VOLUME, say.size_field("tank")),
            "feed": FormField(self, VOLUME, say.size_field("feed")),
            "a_day": FormField(self, VOLUME, say.size_field("days")),
            "days": FormField(self, NUMBER, say.days_field()),
            "bag": FormField(self, PACK, say.size_field("bag")),
        }
        words = {"tank": say.litres(), "feed": say.litres(), "a_day": say.a_day(), "days": say.days_word(),
                 "bag": say.of_product()}  # fmt: skip
        self.units: dict[str, QLabel] = {}
        for name, field in self.fields.items():
            field.typed.connect(lambda value, name=name: self._typed(name, value))
            field.left.connect(self._refill)
            unit = self.units[name] = QLabel(words[name], self)
            unit.setFont(theme.font())
            unit.setForegroundRole(QPalette.ColorRole.PlaceholderText)
            unit.setBuddy(field)
        for name in ("tank", "feed", "a_day"):
            self.fields[name].unit_changed.connect(lambda unit, name=name: self._show_unit(name, unit))
        self.product = Choice(self, say.bag_choice())
        self.product.chosen.connect(self._choose_product)
        self.says = Text(self, 13, strong=True)
        self.advice = Text(self, 12, role="check")
        self._choose_way(session.weighing.habits.size_by)

    def show_plan(self, recipe: Recipe, plan: Plan) -> None:
        """Show the batch of this recipe in every way."""
        self._shown = (recipe, plan)
        self.product.set_pairs([(amount.entry_id, salt_name(amount.salt)) for amount in plan.amounts])
        self._refill()

    def show_makes(self, words: str) -> None:
        """Say what the batch is."""
        self.says.say(words)
        self._arrange()

    def _refill(self) -> None:
        if self._shown is None:
            return
        recipe, plan = self._shown
        volume, ratio, a_day = (
            recipe.batch.tank_volume_l,
            recipe.tanks.ratio,
            self._session.weighing.habits.feed_l_per_day,
        )
        feed = batch_size.feed_from_volume_l(volume, ratio)
        days = None if not a_day else batch_size.days_of_feed(feed, a_day)
        for name, value in (("tank", volume), ("feed", feed), ("a_day", a_day), ("days", days)):
            self.fields[name].set_quantity(value)
        amount = next((one for one in plan.amounts if one.entry_id == self.product.key()), None)
        takes = None if amount is None else batch_size.product_for_volume_kg(volume, amount.mg_per_l, ratio)
        self.fields["bag"].set_quantity(takes)
        long = self.way.key() == "days" and days is not None and days > batch_size.ADVISED_DAYS
        self.advice.say(say.too_long() if long else "")
        self._arrange()

    def _typed(self, name: str, value: float | None) -> None:
        if value is None or value <= 0.0 or self._shown is None:
            return
        _recipe, plan = self._shown
        recipe = self._session.recipe or _recipe
        ratio, a_day = recipe.tanks.ratio, self._session.weighing.habits.feed_l_per_day
        if name == "a_day":
            days = self.fields["days"].quantity()
            self._session.weighing.choose(feed_l_per_day=value)
            volume = None if not days else batch_size.volume_for_days_l(value, days, ratio)
        elif name == "days":
            volume = None if not a_day else batch_size.volume_for_days_l(a_day, value, ratio)
        elif name == "bag":
            amount = next((one for one in plan.amounts if one.entry_id == self.product.key()), None)
            volume = None if amount is None else batch_size.volume_for_product_l(value, amount.mg_per_l, ratio)
        else:
            volume = value if name == "tank" else batch_size.volume_for_feed_l(value, ratio)
        if volume is not None:
            self._push(recipe, volume if name == "tank" else batch_size.told_l(volume), self.fields[name])

    def _push(self, recipe: Recipe, volume_l: float, field: FormField) -> None:
        batch = structs.replace(recipe.batch, tank_volume_l=volume_l)
        try:
            self._session.push(say.size_edit(), ("batch", "tank_volume_l"), structs.replace(recipe, batch=batch))
        except RecipeError as error:
            field.refuse(phrases.refused_value(error.what))

    def _choose_way(self, way: str) -> None:
        self.way.set_key(way)
        self._session.weighing.choose(size_by=way)
        for name in self.fields:
            for part in (self.fields[name], self.units[name]):
                part.setVisible(name in WAYS[way])
        self.product.setVisible(way == "bag")
        self._refill()
        self._arrange()

    def _choose_product(self, _key: str) -> None:
        self._refill()

    def _show_unit(self, name: str, unit: str) -> None:
        words = {"L": {"a_day": say.a_day()}.get(name, say.litres())}
        self.units[name].setText(words.get(unit, unit if name != "a_day" else say.a_day_in(unit)))
        self._arrange()

    def height_for(self, width: int) -> int:
        """Return the height the bar needs at a width [px]."""
        return self._lay(width, place=False)

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._arrange()

    def _arrange(self) -> None:
        self._lay(self.width(), place=True)

    def _lay(self, width: int, *, place: bool) -> int:
        """Flow the parts in view from left to right, on as many lines as they need; return the height [px]."""
        gap, pad, tall, line = theme.px(GAP), theme.px(PAD), theme.px(TALL), theme.px(TALL + 6)
        left, top = pad, theme.px(TOP)
        for part, wide in self._parts():
            if left > pad and left + wide > width - pad:
                left, top = pad, top + line
            if place:
                part.setGeometry(left, top, min(wide, width - 2 * pad), tall)
            left += wide + gap
        for text in (self.says, self.advice):
            if text.isHidden():
                continue
            wide = text.fontMetrics().horizontalAdvance(text.text()) + theme.px(4)
            if left > pad and left + gap + wide > width - pad:
                left, top = pad, top + line
            room = min(wide, width - 2 * pad)
            high = max(tall, text.heightForWidth(room))
            if place:
                text.setGeometry(left + gap * (left > pad), top, room, high)
            left, top = left + gap + room, top + high - tall
        return top + tall + theme.px(TOP)

    def _parts(self) -> list[tuple[QWidget, int]]:
        parts: list[tuple[QWidget, int]] = [(self.way, max(self.way.sizeHint().width(), theme.px(120)))]
        for name in WAYS[self.way.key()]:
            unit = self.units[name]
            parts += [(self.fields[name], theme.px(FIELD)), (unit, unit.sizeHint().width())]
        if self.way.key() == "bag":
            parts.append((self.product, max(self.product.sizeHint().width(), theme.px(140))))
        return parts

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours, painter = theme.colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        paint.panel(painter, QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
