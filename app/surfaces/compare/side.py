"""Beside the table: what differs in words, cost against fit, what the bags are for, shares, sensitivity."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from app.session.side_by_side import Column, Looked, Sensitivity
from app.surfaces.compare.cost_plot import CostPlot, Stop
from app.surfaces.compare.rows import head_of
from app.surfaces.compare.share_bars import ShareBars
from app.surfaces.compare.side_card import SideCard
from app.surfaces.compare.use_card import UseCard
from app.widgets import theme
from app.widgets.form import Words
from app.widgets.link_button import LinkButton
from app.widgets.slim_bar import slim
from app.widgets.steps_table import StepsTable
from app.widgets.told import Told
from app.wording import comparing as say
from app.wording import comparing_cards as cards
from app.wording.compare import differing_text
from app.wording.goals import goal_note
from app.wording.why import is_told, step_heads, step_rows, unused_text
from app.wording.why_sheet import steps_words

if TYPE_CHECKING:
    from core.blend.why_records import Price
    from core.plan.comparison import Differing

STEPS_SHOWN, DIFFERING_SHOWN = 4, 9

WEIGHTY = ("new", "gone", "cost", "tanks", "ec", "ph")
"""What is told before amounts and nutrients."""


class _Page(QWidget):
    """As tall as its cards at its width: left to the scroll area it is as tall as they would be when narrow."""

    def fit(self) -> None:
        """Take the height the cards need."""
        layout = self.layout()
        if layout is not None:
            layout.invalidate()
            layout.activate()
            tall = layout.totalHeightForWidth(self.width())
            if tall != self.minimumHeight() or tall != self.maximumHeight():
                self.setFixedHeight(tall)

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        if event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.Resize):
            self.fit()
        return done


class Side(QScrollArea):
    """Cards below one another; what they tell is of the column chosen.

    Signals
    -------
    prices_wanted : the way to the prices was pressed.
    """

    prices_wanted = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        slim(self)
        page = _Page()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, theme.px(4), 0)
        column.setSpacing(theme.px(theme.GAP))
        self.setWidget(page)
        self.viewport().setAutoFillBackground(False)
        page.setAutoFillBackground(False)
        self._build_differs(page)
        self._build_plot(page)
        self.use = UseCard(page)
        self._build_rest(page)
        for card in (self.differs, self.plot_card, self.use, self.shares, self.sensitivity):
            column.addWidget(card)
        column.addStretch(1)

    def show_looked(self, looked: Looked, chosen: int) -> None:
        """Show what was found, told of the column chosen."""
        column, first = looked.columns[chosen], looked.columns[0]
        self._tell_difference(looked, chosen)
        self._show_plot(looked, chosen)
        self.use.show_use(first.variant.costing.feed_l)
        self._show_shares(column)
        self.sensed.say(cards.sensitivity_looking())
        self.sensed_prices.hide()
        self.steps.show_rows((), [], "")

    def show_sensitivity(self, found: Sensitivity, currency: str) -> None:
        """Show what prices and tolerances would do."""
        lines = [f"{unused_text(one, currency)}." for one in found.unused if one.reason in ("price", "no-price-helps")]
        missing = any(one.reason == "prices-missing" for one in found.unused)
        lines += [f"{unused_text(one, currency)}." for one in found.unused if one.reason == "prices-missing"]
        dearest = tuple(_dearest(tuple(price for price in found.prices if is_told(price))))
        rows = [row for price in dearest for row in step_rows(price)]
        self.steps.show_rows(step_heads(currency), rows, steps_words(dearest, currency))
        self.sensed.say("\n".join(lines) or ("" if rows else cards.nothing_sensed()))
        self.sensed_prices.setVisible(missing)

    def _build_differs(self, page: QWidget) -> None:
        self.differs = SideCard(page, say.card("differs"))
        self.beside = Words(self.differs)
        self.difference = Told(self.differs, "")
        self.remarks = Words(self.differs)
        self.all_link = LinkButton(self.differs, unfolds=True)
        self.all_link.toggled.connect(self._unfold)
        self._differing: list[str] = []
        self.differs.add_words(self.beside)
        self.differs.add_words(self.remarks)
        self.differs.column.addWidget(self.difference)
        self.differs.column.addWidget(self.all_link, 0, Qt.AlignmentFlag.AlignLeft)

    def _build_plot(self, page: QWidget) -> None:
        self.plot_card = SideCard(page, say.card("plot"))
        self.plot = CostPlot(self.plot_card)
        self.plot_told, self.plot_note = Words(self.plot_card, muted=False), Words(self.plot_card)
        self.plot.told_of.connect(self.plot_told.say)
        self.prices = LinkButton(self.plot_card)
        self.prices.set_text(cards.prices_wanted())
        self.prices.clicked.connect(self.prices_wanted)
        self.plot_card.add_words(self.plot_told)
        self.plot_card.column.addWidget(self.plot)
        self.plot_card.add_words(self.plot_note)
        self.plot_card.column.addWidget(self.prices, 0, Qt.AlignmentFlag.AlignLeft)

    def _build_rest(self, page: QWidget) -> None:
        self.shares = SideCard(page, say.card("shares"))
        self.ratio, self.shares_told = Told(self.shares, ""), Told(self.shares, "")
        self.bars = ShareBars(self.shares)
        for part in (self.ratio, self.bars, self.shares_told):
            self.shares.column.addWidget(part)
        self.sensitivity = SideCard(page, say.card("sensitivity"))
        self.sensed = Told(self.sensitivity, "")
        self.sensed_prices = LinkButton(self.sensitivity)
        self.sensed_prices.set_text(cards.prices_wanted())
        self.sensed_prices.clicked.connect(self.prices_wanted)
        self.steps = StepsTable(self.sensitivity)
        self.sensitivity.column.addWidget(self.sensed)
        self.sensitivity.column.addWidget(self.steps)
        self.sensitivity.column.addWidget(self.sensed_prices, 0, Qt.AlignmentFlag.AlignLeft)

    def _tell_difference(self, looked: Looked, chosen: int) -> None:
        if chosen == 0:
            self.all_link.hide()
            self.beside.say("")
            self.difference.say(say.only_one())
            self.remarks.say("")
            return
        column = looked.columns[chosen]
        self.beside.say(say.beside(name_of(column), name_of(looked.columns[0])))
        mixed = column.held.doses_ml_per_l  # told among the remarks, as doses
        found = in_order(tuple(one for one in looked.differences[chosen] if one.about not in mixed))
        self._differing = [f"{differing_text(one)}." for one in found]
        self._unfold()
        notes = filter(None, map(goal_note, column.plan.cautions))
        self.remarks.say("\n".join((*column.held.remarks, *notes)))

    def _unfold(self) -> None:
        """Tell the first of what differs, or all of it."""
        every, link = self._differing, self.all_link
        link.setVisible(len(every) > DIFFERING_SHOWN + 2)
        link.set_text(say.all_differing(len(every)))
        shown = every if link.isChecked() or link.isHidden() else every[:DIFFERING_SHOWN]
        self.difference.say("\n".join(shown) or say.nothing_differs())

    def _show_plot(self, looked: Looked, chosen: int) -> None:
        curve, currency = looked.frontier, looked.columns[0].variant.costing.currency
        points = []
        for number, column in enumerate(looked.columns):
            cost = column.variant.costing.per_1000_l
            if cost is not None:
                points.append(Stop(column.variant.worst_deviation_percent, cost, name_of(column), number == chosen))
        there = bool(curve.corners)
        for part in (self.plot, self.plot_told):
            part.setVisible(there)
        self.prices.setVisible(not there or bool(curve.unpriced))
        if there:
            self.plot.show_curve(curve, tuple(points), currency)
        missing = curve.unpriced if len(curve.unpriced) < len(looked.columns[0].recipe.shelf) else ()
        self.plot_note.say(cards.curve_note(curve.left_out, curve.unpriced) if there else cards.no_curve(missing))

    def _show_shares(self, column: Column) -> None:
        ratios = column.variant.ratios
        self.bars.show_ratios(ratios)
        n_to_k = next((one for one in ratios if one.kind == "n-to-k"), None)
        self.ratio.say("" if n_to_k is None else cards.ratio_told(n_to_k))
        shown = [one for one in ratios if one.kind != "n-to-k"]
        unusual = [one for one in shown if one.unusual]
        known = [one.usual for one in shown if one.usual is not None]
        sources = list(dict.fromkeys(source for usual in known for source in usual.sources))
        told = cards.shares_told(unusual, sources, crop_known=column.recipe.aim.crop is not None)
        recalled = any(usual.how_known == "MEMORY" for usual in known)
        self.shares_told.say(f"{told} {cards.recalled()}" if recalled else told)


def name_of(column: Column) -> str:
    """Return what a variant is called."""
    return head_of(column.held, column.recipe.title, column.recipe.goal)[0]


def in_order(found: tuple[Differing, ...]) -> list[Differing]:
    """Return what differs: what comes and goes and the figures of the whole first, then what changes most."""

    def rank(one: Differing) -> tuple[int, float]:
        if one.kind in WEIGHTY:
            return WEIGHTY.index(one.kind), 0.0
        was, now = one.before or 0.0, one.after or 0.0
        return len(WEIGHTY), -abs(now - was) / max(abs(was), abs(now), 1e-9)

    return sorted(found, key=rank)


def _dearest(prices: tuple[Price, ...]) -> list[Price]:
    """Return the bounds and tolerances whose step changes the cost most; where no cost is known the first ones."""

    def change(price: Price) -> float:
        sides = [side.cost_change_per_1000_l or 0.0 for side in (price.down, price.up) if side is not None]
        return max((abs(cost) for cost in sides), default=0.0)

    return sorted(prices, key=lambda price: -change(price))[:STEPS_SHOWN]
