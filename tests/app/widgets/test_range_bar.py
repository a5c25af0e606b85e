"""A nutrient's bar: where things stand, and that they are painted there."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.widgets import theme
from app.widgets.range_bar import ANCHOR, RangeBar
from core.plan.records import NutrientRow

MET = NutrientRow("Ca", 138, 131.1, 144.9, 39, 138, "met")
SHORT = NutrientRow("Ca", 138, 131.1, 144.9, 39, 100, "short")
FAR_OVER = NutrientRow("Cu", 0.1, 0.075, 0.125, 0, 5, "over")
LIMITED = NutrientRow("Na", None, None, 46, 22, 23, "fine")
UNASKED = NutrientRow("S", None, None, None, 8, 60, "fine")


@pytest.fixture
def bar(dressed: None, qtbot: QtBot) -> Iterator[RangeBar]:
    ground = QWidget()
    bar = RangeBar(ground)
    bar.setGeometry(0, 0, 300, 30)
    ground.resize(300, 30)
    ground.show()
    yield bar
    ground.close()


def colour_at(bar: RangeBar, share: float, y: int) -> QColor:
    picture = QImage(bar.size(), QImage.Format.Format_RGB32)
    picture.fill(theme.colours().window)
    painter = QPainter(picture)
    bar.draw(painter)
    painter.end()
    inset = theme.px(6)
    return picture.pixelColor(round(inset + share * (bar.width() - 2 * inset)), y)


@pytest.mark.parametrize("row", [MET, SHORT, FAR_OVER])
def test_targets_stand_below_one_another(bar: RangeBar, row: NutrientRow) -> None:
    bar.set_row(row)
    assert row.target_mg_per_l is not None
    assert bar.position(row.target_mg_per_l) == pytest.approx(ANCHOR)


def test_a_limit_stands_where_targets_stand(bar: RangeBar) -> None:
    bar.set_row(LIMITED)
    assert bar.position(46) == pytest.approx(ANCHOR)


def test_what_nothing_is_asked_of_stands_half_way(bar: RangeBar) -> None:
    bar.set_row(UNASKED)
    assert bar.position(60) == pytest.approx(0.5)


def test_off_the_scale_stands_at_its_end(bar: RangeBar) -> None:
    bar.set_row(FAR_OVER)
    assert bar.position(5) == 1.0


def test_a_bar_of_nothing(bar: RangeBar) -> None:
    bar.set_row(NutrientRow("Mo", None, None, None, 0, 0, "fine"))
    assert bar.position(0) == 0.0
    bar.grab()


def test_water_marker_and_target_are_painted_where_they_stand(bar: RangeBar) -> None:
    bar.set_row(SHORT)
    colours = theme.colours()
    assert colour_at(bar, bar.position(20), 15) == colours.water
    assert colour_at(bar, bar.position(100), 15) == colours.check
    assert colour_at(bar, bar.position(138), 7) == colours.target
    bar.set_row(MET)
    assert colour_at(bar, bar.position(138), 15) == colours.accent
