"""What stays in view: the recipe beside variants scrolled to, what was chosen, names beside the line of the plot."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.surfaces.compare import CompareSurface
from app.window.frame import MainWindow
from tests.app.surfaces.compare.test_compare import adapt, done, goals


@pytest.fixture
def compare(real: MainWindow) -> CompareSurface:
    real.go_to("compare")
    surface = real.room.surfaces["compare"]
    assert isinstance(surface, CompareSurface)
    return surface


def test_the_recipe_stays_in_view_beside_whatever_is_scrolled_to(qtbot: QtBot, compare: CompareSurface) -> None:
    goals(compare)
    compare.comparing.keep("four")
    compare.comparing.keep("five")
    done(compare)
    table = compare.table
    table.choose(0)
    table.horizontalScrollBar().setValue(0)
    assert table.frozen.isHidden()
    last = table.compared.columnCount() - 1
    table.choose(last)
    QApplication.processEvents()
    bar, frozen = table.horizontalScrollBar(), table.frozen
    assert bar.value() > 0
    assert frozen.isVisible()
    assert frozen.x() == table.viewport().x()
    assert frozen.width() == max(table.columnWidth(0), table.columnViewportPosition(bar.value() + 1))
    shown = table.columnViewportPosition(last)
    assert frozen.width() <= shown
    assert shown + table.columnWidth(last) <= table.viewport().width()
    for column in range(last, 0, -1):  # no column the keyboard comes to lies below it
        table.choose(column)
        QApplication.processEvents()
        assert frozen.isHidden() or table.columnViewportPosition(column) >= frozen.width()
    table.choose(last)
    QApplication.processEvents()
    qtbot.mouseClick(frozen, Qt.MouseButton.LeftButton)
    assert table.compared.chosen == 0
    frozen.grab()


def test_the_cards_end_where_the_page_does(compare: CompareSurface) -> None:
    goals(compare)
    QApplication.processEvents()
    page = compare.side.widget()
    assert page.height() == max(compare.side.sensitivity.geometry().bottom() + 1, compare.side.viewport().height())


def test_what_was_chosen_stands_right_below_its_search(qtbot: QtBot, real: MainWindow, compare: CompareSurface) -> None:
    sheet = adapt(qtbot, real, compare)
    sheet.crop.picked.emit("cucumber-ikeda-1996", "cucumber")
    QApplication.processEvents()
    assert sheet.chosen_crop.text() == "Chosen: Cucumber, full strength"
    assert 0 <= sheet.chosen_crop.y() - sheet.crop.geometry().bottom() <= 12
    assert sheet.make.isEnabled()


def test_no_name_lies_over_the_line(compare: CompareSurface) -> None:
    goals(compare)
    plot = compare.side.plot
    across, up = plot._axes()
    line = plot._along_line(across, up)
    assert len(line) > 20
    for point in plot._points:
        words = plot._free_place(plot._spot(point, across, up), 90.0, 15.0, line)
        assert not [one for one in line if words.intersects(one)]
