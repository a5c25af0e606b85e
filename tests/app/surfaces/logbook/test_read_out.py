"""What is read out of the diary: plots, the search for a cause, what was taken up, batches as they were mixed."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from msgspec import structs
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from app.surfaces.logbook import LogbookSurface
from app.surfaces.logbook.diary_model import COLUMNS
from app.surfaces.logbook.plot_drawing import ticks
from app.window.frame import MainWindow
from app.wording.logbook_told import legend
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir

Answered = Callable[[LogbookSurface], None]


def plain(words: list[str]) -> list[str]:
    """The words with ordinary spaces."""
    return [one.replace("\N{NO-BREAK SPACE}", " ").replace("\N{WORD JOINER}", "") for one in words]


def test_what_differs_is_said_and_the_cause_searched_for(
    qtbot: QtBot, surface: LogbookSurface, answered: Answered
) -> None:
    why = surface.why
    assert any("2026-03-10 08:00" in words for words in why.lines.words())
    assert why.button.isVisible()
    qtbot.keyClick(why.button, Qt.Key.Key_Space)
    answered(surface)
    told = plain(why.lines.words())
    assert "The meter read 1.29 mS/cm where" in told[0]
    assert any(words.startswith("To tell: ") for words in told)
    assert "our own guess" in " ".join(told)
    assert not why.button.isVisible()


def test_a_change_of_the_diary_forgets_the_causes(surface: LogbookSurface, answered: Answered) -> None:
    surface.why.button.click()
    answered(surface)
    surface.diary.table.deleted.emit([9, 10, 11])
    answered(surface)
    assert surface.why.lines.words() == [
        "The readings are where they were foretold, to within what a meter and a crop make of them."
    ]
    assert not surface.why.button.isVisible()


def test_what_the_crop_took_up_stands_beside_what_was_brought(surface: LogbookSurface) -> None:
    card = surface.uptake
    assert card.lines.words()[0] == "2026-03-01 to 2026-03-07"
    cells = card.rows()
    assert cells[1:4] == ["taken, mg/L used", "mg a day", "brought, mg/L"]
    nitrogen = cells[cells.index("N") : cells.index("N") + 4]
    assert 100 < float(nitrogen[1]) < 250
    assert any("Nitrogen is falling faster than EC shows" in words for words in card.after.words())


def test_a_missing_level_is_said_rather_than_guessed(
    window: MainWindow, surface: LogbookSurface, answered: Answered
) -> None:
    book = window.room.session.book
    shown = surface.reservoir()
    assert shown is not None
    lines = tuple(structs.replace(one, level_l=None) if one.at[:10] == "2026-03-07" else one for one in shown.entries)
    book.push("", structs.replace(book.logbook, reservoirs=(structs.replace(shown, entries=lines),)))
    answered(surface)
    assert "the level when the second sample was taken" in surface.uptake.lines.words()[1]
    assert surface.uptake.rows() == []


def test_the_plots_are_walked_by_keys_and_pointed_at(qtbot: QtBot, surface: LogbookSurface) -> None:
    plots = surface.plots.plots
    assert plots.point() == ""
    plots.setFocus()
    qtbot.keyClick(plots, Qt.Key.Key_Left)
    assert plots.point().startswith("2026-03-12 08:15, EC 1.29, foretold")
    qtbot.keyClick(plots, Qt.Key.Key_Home)
    assert plots.accessibleDescription().startswith("2026-03-01 08:10, EC 1.68")
    qtbot.mouseMove(plots, QPoint(plots.width() - 20, 60))
    assert plots.point().startswith("2026-03-12")
    ec, ph, level = plots.strips()
    assert ec.wanted is not None
    assert ec.span()[0] < 1.29 < 1.71 < ec.span()[1]
    assert [value is None for value in level.balance] == []
    assert ph.readings[0] == 5.7
    plots.grab()


def test_ticks_are_round_and_few() -> None:
    assert ticks(1.29, 1.75) == (1.4, 1.6) or len(ticks(1.29, 1.75)) <= 4
    assert ticks(270, 300) == (270.0, 280.0, 290.0, 300.0)
    assert ticks(1.0, 1.0) == ()


def test_batches_unfold_to_what_went_in(surface: LogbookSurface) -> None:
    card = surface.batches
    assert "2026-03-09" in card.buttons[0].text()
    card.buttons[0].click()
    told = plain(card.lines.words())
    assert any(words.startswith("Calcium side A: ") and words.endswith(" g") for words in told)
    assert told[-1] == "mixed in a hurry"
    card.buttons[0].click()
    assert card.lines.words() == []


def test_nothing_foretold_without_a_batch(window: MainWindow, surface: LogbookSurface, answered: Answered) -> None:
    plain = Logbook(reservoirs=(Reservoir("one", 300.0, entries=(Entry("2026-03-01", ec_ms_per_cm=1.5),)),))
    window.room.session.book.push("", plain)
    answered(surface)
    assert surface.why.lines.words()[0].startswith("Nothing is foretold yet")
    assert surface.batches.lines.words() == ["None yet. Weigh-out puts a batch here when it is mixed."]
    assert surface.uptake.lines.words()[0].startswith("Two laboratory reports")


def thickening(batch: MadeBatch, *last: Entry) -> Logbook:
    """A filling and three readings of it: the last but one rises by more than the water that was used explains."""
    tanks = sorted({one.tank for one in batch.weighed})
    entries = (
        Entry(
            "2026-03-20T08:00", fresh=True, water_l=400.0, batch_id=batch.batch_id,
            parts_ml=dict.fromkeys(tanks, 3900.0), level_l=400.0, ec_ms_per_cm=1.62, meter="mS/cm",
        ),
        Entry("2026-03-22T08:00", level_l=380.0, ec_ms_per_cm=1.75, meter="mS/cm"),
        Entry("2026-03-24T08:00", level_l=352.0, ec_ms_per_cm=2.15, meter="mS/cm"),
        *last,
    )  # fmt: skip
    return Logbook(batches=(batch,), reservoirs=(Reservoir("one", 400.0, entries=entries),))


def test_a_word_means_one_thing_in_table_chart_and_card(
    window: MainWindow, surface: LogbookSurface, answered: Answered
) -> None:
    """What the table calls foretold is counted from the reading before; from the filling on it is the balance."""
    batch = window.room.session.book.logbook.batches[0]
    window.room.session.book.push("", thickening(batch, Entry("2026-03-25T08:00", level_l=348.0, ec_ms_per_cm=2.18)))
    answered(surface)
    model, plots = surface.diary.model, surface.plots.plots
    foretold = model.index(0, COLUMNS.index("foretold")).data()
    plots._move(3)
    balance = float(plots.point().partition("balance ")[2].partition(",")[0])
    assert f"foretold {foretold}" in plots.point()
    assert float(foretold) - balance > 0.2
    assert plots.strips()[0].balance[3] == pytest.approx(balance, abs=0.01)
    assert "foretold" not in " ".join(legend())


def test_where_the_table_marks_a_reading_the_search_is_offered(
    window: MainWindow, surface: LogbookSurface, answered: Answered
) -> None:
    """No crop makes a feed stronger than the water it leaves behind does: 13 % over that is marked and searched."""
    window.room.session.book.push("", thickening(window.room.session.book.logbook.batches[0]))
    answered(surface)
    model, off = surface.diary.model, COLUMNS.index("off")
    marks = [model.index(row, off).data(Qt.ItemDataRole.ForegroundRole) for row in range(model.rowCount())]
    assert [mark is not None for mark in marks] == [True, False, False]
    assert surface.why.button.isVisible()
    surface.why.button.click()
    answered(surface)
    assert "The meter read 2.15 mS/cm where" in plain(surface.why.lines.words())[0]
