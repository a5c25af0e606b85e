"""The titration as a curve: pH fresh and aired against the dose, with the plan's own point and a cursor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.surfaces.chemistry.curve_drawing import BOTTOM, LEFT, RIGHT, TOP, CurveDrawing, dose_axis
from app.surfaces.chemistry.explained import Explained
from app.widgets import paint, theme
from app.wording import titration as say

if TYPE_CHECKING:
    from core.plan.titration import Titration

STEP, LEAP = 1 / 60, 1 / 6


class TitrationCurve(Explained):
    """Left and Right move the cursor, PageUp and PageDown move it far, Home and End to the ends."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._curve: Titration | None = None
        self._at = 0.0
        self.setMouseTracking(True)
        self.setAccessibleName(say.curve_name())

    def set_curve(self, curve: Titration | None) -> None:
        """Show this titration; the cursor goes to the plan's own dose, or where it would do the same."""
        self._curve = curve
        if curve is not None:
            planned = curve.planned_dose
            wanted = planned if planned is not None else curve.dose_for(curve.ph_planned[0])
            self._at = (wanted or 0.0) / curve.dose_per_1000_l[-1]
            self.setAccessibleName(f"{say.curve_name()}. {say.curve_text(curve)}")
            self._tell()
        self.update()

    def dose(self) -> float:
        """Return the dose the cursor stands at, per 1000 L."""
        return 0.0 if self._curve is None else self._at * self._curve.dose_per_1000_l[-1]

    def _move(self, to: float) -> None:
        self._at = min(1.0, max(0.0, to))
        self._tell()
        self.update()

    def _tell(self) -> None:
        if self._curve is not None:
            self.explain(say.point_explanation(self._curve, self.dose()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {
            Qt.Key.Key_Right: self._at + STEP, Qt.Key.Key_Left: self._at - STEP, Qt.Key.Key_PageUp: self._at + LEAP,
            Qt.Key.Key_PageDown: self._at - LEAP, Qt.Key.Key_Home: 0.0, Qt.Key.Key_End: 1.0,
        }  # fmt: skip
        to = steps.get(Qt.Key(event.key()))
        if to is None:
            super().keyPressEvent(event)
        else:
            self._move(to)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        plot = self._plot()
        if self._curve is not None and plot.width() > 0:
            doses = dose_axis(self._curve.dose_per_1000_l[-1])
            dose = (event.position().x() - plot.left()) / plot.width() * doses.high
            self._move(dose / self._curve.dose_per_1000_l[-1])

    def _plot(self) -> QRectF:
        return QRectF(self.rect()).adjusted(theme.px(LEFT), theme.px(TOP), -theme.px(RIGHT), -theme.px(BOTTOM))

    def paintEvent(self, _event: QPaintEvent) -> None:
        curve, colours, painter = self._curve, theme.colours(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if curve is not None:
            drawing = CurveDrawing(painter, self._plot(), curve)
            drawing.paint_ground()
            drawing.paint_line(curve.ph_aired, colours.places[1], dashed=True)
            drawing.paint_line(curve.ph_closed, colours.accent, dashed=False)
            drawing.paint_wanted()
            drawing.paint_planned()
            drawing.paint_cursor(self.dose())
            drawing.paint_legend(QRectF(self.rect()))
        if self.hasFocus():
            paint.focus_ring(painter, QRectF(self.rect()), colours.focus, theme.px(5))
