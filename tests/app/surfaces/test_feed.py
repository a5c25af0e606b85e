"""Dosing a reservoir in the window: a whole day by keyboard alone, mistakes, other waters, the diary."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session import book as books
from app.session import state
from app.surfaces.feed import FeedSurface
from app.surfaces.feed import surface as surfaces
from app.window.frame import MainWindow
from core.logbook.records import Logbook, MadeBatch, Reservoir, Weighed
from core.recipe.records import Water, WaterContents
from tests.app.conftest import Clock, put_away, settle
from tests.app.surfaces.feed_fixtures import (
    NOW,
    enter,
    jugs,
    lettuce_jugs,
    press,
    surface_of,
    tab_to,
    wait,
    window_on,
)


@pytest.fixture
def window(
    dressed: None, clock: Clock, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    monkeypatch.setattr(books, "own_logbook", lambda: tmp_path / "log.saltwright-log")
    monkeypatch.setattr(surfaces, "now_text", lambda: NOW)
    window = window_on(jugs(), clock)
    yield window
    put_away(window)


@pytest.fixture
def feed(window: MainWindow) -> FeedSurface:
    return surface_of(window)


def lines(feed: FeedSurface) -> str:
    return feed.steps.now.spoken()


def to_the_rest(qtbot: QtBot, feed: FeedSurface, reads: str = "910") -> None:
    """40 US gal at 245 on the 700 scale, 1.6 wanted; most poured, and read."""
    enter(qtbot, feed.controls.volume, "40 US gal")
    enter(qtbot, feed.controls.wanted, "1.6")
    enter(qtbot, feed.steps.now.reading, "245 ppm-700")
    press(qtbot)
    enter(qtbot, feed.steps.now.reading, reads)


def test_the_whole_day_by_keyboard_alone(qtbot: QtBot, window: MainWindow, feed: FeedSurface) -> None:
    """40 US gal of town water, the pen shows 245 on the 700 scale, target 1.6; then 910; then the diary."""
    now = feed.steps.now
    assert now.title.text() == "Read the water"
    window.setFocus()
    tab_to(qtbot, feed.controls.volume)
    qtbot.keyClicks(feed.controls.volume, "40 US gal")
    tab_to(qtbot, feed.controls.wanted)
    qtbot.keyClicks(feed.controls.wanted, "1.6")
    tab_to(qtbot, now.reading)
    qtbot.keyClicks(now.reading, "245 ppm-700")
    press(qtbot)
    assert lines(feed) == "33.4 US fl oz of the calcium side, 33.4 US fl oz of the phosphate side"
    assert "953" in now.says.accessibleName()
    assert "41.2 US fl oz of each in all" in now.remark.accessibleName()
    assert now.button.hasFocus()
    press(qtbot)
    assert now.reading.hasFocus()
    qtbot.keyClicks(now.reading, "910")
    press(qtbot)
    assert lines(feed) == "10.5 US fl oz of the calcium side, 10.5 US fl oz of the phosphate side"
    assert "Your tanks give 0.94 of the forecast" in now.remark.accessibleName()
    press(qtbot)
    qtbot.keyClicks(now.reading, "1120")
    press(qtbot)
    assert now.title.text() == "Read the pH"
    assert now.ph.hasFocus()
    qtbot.keyClicks(now.ph, "6.7")
    press(qtbot)
    assert now.title.text() == "A little acid, 1 of 3"
    for ph in ("6.4", "6.1", "5.8"):
        press(qtbot)
        qtbot.keyClicks(now.ph, ph)
        press(qtbot)
    assert now.title.text() == "It stands: write it down"
    assert now.writing.name.hasFocus()
    qtbot.keyClicks(now.writing.name, "Bench")
    press(qtbot)
    (reservoir,) = window.room.session.book.logbook.reservoirs
    (entry,) = reservoir.entries
    assert (reservoir.name, entry.at, entry.fresh) == ("Bench", NOW, True)
    assert (entry.ec_ms_per_cm, entry.ph, entry.meter) == (pytest.approx(1.6), 5.8, "ppm-700")
    assert entry.water_l == pytest.approx(40 * 3.785411784)
    assert "43.9 US fl oz of each" in entry.note
    assert "Written into the diary of Bench" in feed.told.words.accessibleName()
    assert now.title.text() == "Read the water"


def test_too_strong_takes_water(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed, "1344")
    assert feed.steps.now.title.text() == "Add water"
    assert lines(feed) == "10.4 US gal of water, stir"


def test_a_rise_nothing_explains_is_read_again_and_kept_for_no_other_day(qtbot: QtBot, feed: FeedSurface) -> None:
    """Twice the rise foretold: asked for again, believed when it stays, and not counted with the next time."""
    to_the_rest(qtbot, feed, "1680")
    now = feed.steps.now
    assert now.title.text() == "Stir, wait, read"
    assert "which no meter explains. Stir, wait and read again" in now.alarm.accessibleName()
    assert (now.reading.text(), now.reading.hasFocus()) == ("", True)
    enter(qtbot, now.reading, "1675")
    assert now.title.text() == "Add water"
    assert now.alarm.accessibleName() == ""
    assert any("Read twice, the EC rose" in note.words.accessibleName() for note in feed.steps.notes)
    qtbot.mouseClick(feed.steps.over, Qt.MouseButton.LeftButton)
    assert feed.dosing.asked.factor == 1.0


def test_another_amount_is_typed_in_any_unit(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    for _ in range(2):  # and as told after all
        qtbot.keyClick(feed.steps.now.other, Qt.Key.Key_Return)
    assert feed.steps.now.fields == {}
    qtbot.keyClick(feed.steps.now.other, Qt.Key.Key_Return)
    fields = feed.steps.now.fields
    assert {name: field.text() for name, field in fields.items()} == {"A": "10.5", "B": "10.5"}
    assert fields["A"].hasFocus()
    enter(qtbot, fields["A"], "200 mL")
    assert feed.steps.now.title.text() == "Stir, wait, read"
    assert feed.dosing.told is not None
    assert feed.dosing.told.parts_ml["A"] == pytest.approx(33.387 * 29.5735 + 200.0, rel=1e-3)
    assert feed.dosing.told.parts_ml["B"] == pytest.approx(43.9 * 29.5735, rel=2e-3)


def test_a_step_is_taken_back_by_mouse(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    qtbot.mouseClick(feed.steps.back, Qt.MouseButton.LeftButton)
    assert feed.steps.now.title.text() == "Stir, wait, read"
    assert feed.steps.now.reading.text() == ""
    qtbot.mouseClick(feed.steps.back, Qt.MouseButton.LeftButton)
    assert feed.steps.now.title.text() == "Pour most of it"
    enter(qtbot, feed.controls.wanted, "1.4")
    assert lines(feed).startswith("27.8 US fl oz")


def test_ppm_without_a_scale_is_asked_back(qtbot: QtBot, feed: FeedSurface) -> None:
    field = feed.steps.now.reading
    field.setFocus(Qt.FocusReason.TabFocusReason)
    press(qtbot)
    assert feed.steps.now.title.text() == "Read the water", "nothing typed is no reading"
    enter(qtbot, field, "245 ppm")
    assert "ppm-700" in field.fault()
    assert feed.steps.now.title.text() == "Read the water"
    assert not feed.steps.now.button.isEnabled()


def test_what_no_feed_reads_is_asked_back(qtbot: QtBot, feed: FeedSurface) -> None:
    now = feed.steps.now
    enter(qtbot, now.reading, "480")
    assert now.reading.fault() == "No feed reads 480 mS/cm, 20 mS/cm is the most: did you mean 480 µS/cm?"
    assert now.title.text() == "Read the water"
    assert not now.button.isEnabled()
    enter(qtbot, now.reading, "480 µS/cm")
    assert now.title.text() == "Pour most of it"
    enter(qtbot, feed.controls.wanted, "160")
    assert "No feed reads 160" in feed.controls.wanted.fault()


def test_a_meter_that_does_not_move_says_so_in_the_step(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed, "250")
    assert "hardly moved" in feed.steps.now.alarm.accessibleName()
    enter(qtbot, feed.steps.now.reading, "910")
    assert feed.steps.now.alarm.accessibleName() == ""
    assert feed.steps.now.title.text() == "Pour the rest"


def test_a_meter_without_compensation(qtbot: QtBot, feed: FeedSurface) -> None:
    feed.controls.compensates.setFocus()
    qtbot.keyClick(feed.controls.compensates, Qt.Key.Key_Down)
    enter(qtbot, feed.controls.temperature, "15")
    enter(qtbot, feed.steps.now.reading, "0.2835")
    assert feed.dosing.asked.start_ms_per_cm == pytest.approx(0.35, rel=1e-3)
    assert "0.35 mS/cm" in feed.steps.done[0].words.accessibleName()
    enter(qtbot, feed.controls.temperature, "80")
    assert feed.controls.temperature.fault() != ""


def test_what_was_stated_stands_once_something_was_poured(qtbot: QtBot, feed: FeedSurface) -> None:
    assert feed.controls.volume.isEnabled()
    to_the_rest(qtbot, feed)
    assert not feed.controls.volume.isEnabled()
    assert not feed.controls.holds.isEnabled()
    assert feed.controls.wanted.isEnabled()
    feed.dosing.state(volume_l=1.0)
    assert feed.dosing.asked.volume_l != 1.0


def test_the_next_reservoir_begins_with_nothing_but_todays_factor(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    qtbot.mouseClick(feed.steps.over, Qt.MouseButton.LeftButton)
    assert feed.dosing.told is not None
    assert (feed.dosing.told.now, feed.dosing.told.parts_ml) == (0, {})
    assert feed.dosing.told.factor == pytest.approx(0.939, abs=0.002)
    enter(qtbot, feed.steps.now.reading, "245")
    assert "gave 0.94 of the forecast before" in feed.steps.now.remark.accessibleName()


def test_another_recipe_remembers_nothing(qtbot: QtBot, window: MainWindow, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    window.room.session.start(lettuce_jugs())
    settle(window)
    wait(feed)
    assert feed.dosing.told is not None
    assert (feed.dosing.told.now, feed.dosing.told.factor) == (0, 1.0)
    assert feed.dosing.asked.wanted_ms_per_cm == 1.9
    assert feed.dosing.asked.start_ms_per_cm is None


def test_an_edit_while_dosing_goes_on_with_the_tanks_in_hand(
    qtbot: QtBot, window: MainWindow, feed: FeedSurface
) -> None:
    to_the_rest(qtbot, feed)
    told, session = feed.dosing.told, window.room.session
    assert session.recipe is not None
    session.push("ratio", ("tanks", "ratio"), structs.replace(jugs(), tanks=structs.replace(jugs().tanks, ratio=50.0)))
    settle(window)
    assert feed.dosing.told == told
    assert "changed meanwhile" in feed.notice.words.accessibleName()
    qtbot.mouseClick(feed.notice.button, Qt.MouseButton.LeftButton)
    wait(feed)
    assert feed.dosing.told is not None
    assert feed.dosing.told.now == 0
    assert feed.notice.isHidden()


def test_the_curve_says_itself_and_points_are_those_read(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    said = feed.curve.accessibleDescription()
    assert "43.9 US fl oz of each in all" in said
    assert "At 33.4 US fl oz it read 910 ppm (700)." in said


def test_acid_is_chosen_with_its_strength_and_its_care(qtbot: QtBot, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    assert "acid gloves" in feed.ph.care.accessibleName()
    assert "safety data sheet" in feed.ph.care.accessibleName()
    before = feed.ph.rows()
    enter(qtbot, feed.ph.strength, "10")
    after = feed.ph.rows()
    assert after[1][0] != before[1][0]
    assert after[1][1] == pytest.approx(before[1][1], abs=0.05)
    enter(qtbot, feed.ph.strength, "99")
    assert feed.ph.strength.fault() != ""
    enter(qtbot, feed.ph.wanted, "2")
    assert feed.ph.wanted.fault() != ""
    feed.ph.product.setFocus()
    key = feed.ph.product.key()
    qtbot.keyClick(feed.ph.product, Qt.Key.Key_Down)
    assert feed.ph.product.key() != key
    assert feed.dosing.asked.product == feed.ph.product.key()


def batch_of_jugs() -> MadeBatch:
    """The jugs as they were weighed: a tenth less calcium nitrate than planned."""
    recipe = jugs()
    grams = {"A": ("calcium-nitrate-greenhouse", 226.8), "B": ("blend:all but calcium", 340.2)}
    weighed = tuple(Weighed(tank, key, g, 0.9 * g if tank == "A" else g) for tank, (key, g) in grams.items())
    return MadeBatch("b1", "2026-03-01", recipe, weighed=weighed)


RAIN = Water("rain barrel", WaterContents(ca=2.0, cl=3.5))


def with_book(window: MainWindow, feed: FeedSurface) -> None:
    reservoirs = (Reservoir("Bench", 150.0, RAIN), Reservoir("Tower", 80.0))
    window.room.session.book.push("book", Logbook(batches=(batch_of_jugs(),), reservoirs=reservoirs))
    recipe, plan = window.room.session.recipe, window.room.session.plan
    assert recipe is not None
    assert plan is not None
    feed.show_plan(recipe, plan)


def choose(qtbot: QtBot, feed: FeedSurface, which: str, times: int) -> None:
    choice = feed.controls.choices[which]
    choice.setFocus()
    for _ in range(times):
        qtbot.keyClick(choice, Qt.Key.Key_Down)
    wait(feed)


def test_a_reservoir_brings_its_volume_and_its_water(qtbot: QtBot, window: MainWindow, feed: FeedSurface) -> None:
    with_book(window, feed)
    to_the_rest(qtbot, feed)
    choose(qtbot, feed, "reservoir", 1)
    assert feed.dosing.told is not None
    assert feed.dosing.told.now == 0, "another reservoir begins anew"
    assert feed.dosing.told.factor == 1.0, "in another water"
    assert feed.dosing.asked.volume_l == 150.0
    assert feed.controls.choices["water"].currentText() == "rain barrel"
    assert feed.dosing.tanks is not None
    assert feed.dosing.tanks.water_ms_per_cm < 0.05
    assert "Bench, 39.6 US gal" in feed.controls.accessibleName()


def test_mixed_tanks_are_dosed_as_weighed_and_named_in_the_diary(
    qtbot: QtBot, window: MainWindow, feed: FeedSurface
) -> None:
    with_book(window, feed)
    assert feed.dosing.tanks is not None
    planned = feed.dosing.tanks.full_ms_per_cm
    choose(qtbot, feed, "tanks", 1)
    assert feed.dosing.tanks is not None
    assert feed.dosing.tanks.full_ms_per_cm < planned - 0.03
    choose(qtbot, feed, "reservoir", 2)
    enter(qtbot, feed.controls.wanted, "1.5")
    enter(qtbot, feed.steps.now.reading, "0.35")
    press(qtbot)
    enter(qtbot, feed.steps.now.reading, "1.5")
    qtbot.keyClick(feed.steps.now.other, Qt.Key.Key_Return)
    assert feed.steps.now.title.text() == "It stands: write it down"
    assert feed.steps.now.writing.choice.key() == "Tower"
    assert feed.steps.now.button.hasFocus()
    press(qtbot)
    tower = next(one for one in window.room.session.book.logbook.reservoirs if one.name == "Tower")
    (entry,) = tower.entries
    assert entry.batch_id == "b1"
    assert set(entry.parts_ml) == {"A", "B"}
    assert entry.level_l == pytest.approx(80.0 + sum(entry.parts_ml.values()) / 1000.0)
    assert feed.diary.lines()[0][1] == "1.50"


def test_a_diary_needs_a_name_that_is_free(qtbot: QtBot, window: MainWindow, feed: FeedSurface) -> None:
    with_book(window, feed)
    enter(qtbot, feed.controls.wanted, "0.35")
    enter(qtbot, feed.steps.now.reading, "0.35")
    qtbot.keyClick(feed.steps.now.other, Qt.Key.Key_Return)
    writing = feed.steps.now.writing
    writing.choice.setFocus()
    qtbot.keyClick(writing.choice, Qt.Key.Key_End)
    assert not writing.name.isHidden()
    qtbot.keyClick(feed.steps.now.button, Qt.Key.Key_Return)
    assert "Give the new reservoir a name" in writing.refusal.accessibleName()
    qtbot.keyClicks(writing.name, "Tower")
    qtbot.keyClick(writing.name, Qt.Key.Key_Return)
    assert "Tower already" in writing.refusal.accessibleName()
    assert window.room.session.book.logbook.reservoirs[1].entries == ()


def test_how_she_reads_and_pours_is_remembered(qtbot: QtBot, feed: FeedSurface) -> None:
    from app.session.feed_habits import read_habits

    enter(qtbot, feed.controls.volume, "40 US gal")
    enter(qtbot, feed.steps.now.reading, "245 ppm-700")
    assert (read_habits().volume_unit, read_habits().ec_unit) == ("US gal", "ppm-700")


def test_nothing_overlaps_at_any_size(qtbot: QtBot, window: MainWindow, feed: FeedSurface) -> None:
    to_the_rest(qtbot, feed)
    parts = [feed.controls, feed.steps, feed.curve, feed.ph, feed.diary]
    for size in ((1024, 768), (1366, 768), (1920, 1080), (683, 384), (512, 384)):
        window.resize(*size)
        QApplication.processEvents()
        for part in parts:
            assert feed._page.rect().contains(part.geometry()), size
            assert not [one for one in parts if one is not part and part.geometry().intersects(one.geometry())], size
        assert feed.ph.height() >= feed.ph.least_height(feed.ph.width()), size


def test_every_control_has_a_name(feed: FeedSurface) -> None:
    from app.widgets.choice import Choice
    from app.widgets.form_field import FormField

    for kind in (FormField, Choice):
        assert all(part.accessibleName() for part in feed.findChildren(kind))
    assert feed.steps.now.accessibleName().startswith("Step 1: Read the water.")
