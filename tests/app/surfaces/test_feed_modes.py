"""Topping up, the injector and the bleed, on the same surface."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session import book as books
from app.session import state
from app.surfaces.feed import FeedSurface
from app.surfaces.feed.injector_page import InjectorPage
from app.surfaces.feed.topup_page import TopUpPage
from core.recipe import load
from core.recipe.records import Recipe
from tests.app.conftest import Clock, put_away
from tests.app.surfaces.feed_fixtures import enter, jugs, lettuce_jugs, surface_of, window_on


@pytest.fixture
def feed(
    dressed: None, clock: Clock, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[FeedSurface]:
    yield from shown(jugs(), clock, tmp_path, monkeypatch)


@pytest.fixture
def hard(
    dressed: None, clock: Clock, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[FeedSurface]:
    yield from shown(load(Path("resources/demo/strawberry.saltwright")), clock, tmp_path, monkeypatch)


def shown(recipe: Recipe, clock: Clock, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[FeedSurface]:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    monkeypatch.setattr(books, "own_logbook", lambda: tmp_path / "log.saltwright-log")
    window = window_on(recipe, clock)
    yield surface_of(window)
    put_away(window)


def mode(qtbot: QtBot, feed: FeedSurface, name: str) -> None:
    qtbot.mouseClick(feed.controls.modes[name], Qt.MouseButton.LeftButton)
    QApplication.processEvents()


def topped(qtbot: QtBot, feed: FeedSurface) -> TopUpPage:
    """300 L at 2.2, filled to 400 L, water 0.3, feed 1.8."""
    mode(qtbot, feed, "topup")
    page = feed.topup
    assert page is not None
    for field, text in (
        (page.left_l, "300"), (page.left_ec, "2.2"), (page.fill_to_l, "400"), (page.wanted, "1.8"),
        (page.water_ec, "0.3"),
    ):  # fmt: skip
        enter(qtbot, field, text)
    return page


def test_three_customs_and_what_plants_take(qtbot: QtBot, feed: FeedSurface) -> None:
    page = topped(qtbot, feed)
    after = {name: row.words()[3] for name, row in page.rows.items()}
    assert [after[name] for name in ("water", "half", "full")] == [
        "then 1.73 mS/cm",
        "then 1.91 mS/cm",
        "then 2.10 mS/cm",
    ]
    assert page.rows["balance"].words()[0].startswith("What plants take, ")
    row = page.rows["water"]
    row.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(row, Qt.Key.Key_Space)
    chosen = page.chosen()
    assert chosen is not None
    assert chosen.refill == "water"
    nitrogen = page.table._cells[1, 3].text()
    qtbot.mouseClick(page.rows["full"], Qt.MouseButton.LeftButton)
    assert float(page.table._cells[1, 3].text()) > float(nitrogen)
    assert page.table.unseen.accessibleName() == ""
    enter(qtbot, page.used_l, "150")
    assert "The meter does not show this" in page.table.unseen.accessibleName()
    assert "piled up" in page.table.unseen.accessibleName()


def test_what_is_missing_is_asked_for(qtbot: QtBot, feed: FeedSurface) -> None:
    mode(qtbot, feed, "topup")
    page = feed.topup
    assert page is not None
    assert "Say how much is left" in page.blank.accessibleName()
    assert page.wrong.isHidden(), "nothing is wrong before anything was typed"
    assert page.button.isHidden()
    assert all(row.isHidden() for row in page.rows.values())
    for field, text in ((page.left_l, "300"), (page.left_ec, "2.2"), (page.fill_to_l, "250")):
        enter(qtbot, field, text)
    assert "more than what is left" in page.wrong.accessibleName()


def test_filled_up_it_is_read_and_dosed(qtbot: QtBot, feed: FeedSurface) -> None:
    page = topped(qtbot, feed)
    qtbot.keyClick(page.button, Qt.Key.Key_Return)
    assert feed.mode() == "dose"
    assert (feed.dosing.asked.volume_l, feed.dosing.asked.holds) == (400.0, "feed")
    assert feed.steps.now.title.text() == "Read what is left"
    assert feed.steps.now.reading.hasFocus()


def test_an_injector_is_checked_by_its_hose(qtbot: QtBot, feed: FeedSurface) -> None:
    """Figures of an extension service: (1.74 - 0.25) / 1.52 is 98 % of the set ratio."""
    page = injector(qtbot, feed)
    for field, text in ((page.hose, "1.74"), (page.water, "0.25"), (page.rise, "1.52")):
        enter(qtbot, field, text)
    assert page.given.accessibleName() == "98 %"
    assert "1:102 instead of 1:100" in page.true.accessibleName()
    enter(qtbot, page.hose, "0.25")
    assert "nothing is drawn" in page.advice.accessibleName()
    enter(qtbot, page.hose, "1.2")
    assert "Far off" in page.advice.accessibleName()


def injector(qtbot: QtBot, feed: FeedSurface) -> InjectorPage:
    mode(qtbot, feed, "injector")
    assert feed.injector is not None
    return feed.injector


def test_how_much_of_a_loop_to_let_go(qtbot: QtBot, feed: FeedSurface) -> None:
    """2 mmol/L of sodium: tomato 11 %, rose 30 % (Agri Kultuur, March 2016)."""
    page = injector(qtbot, feed)
    enter(qtbot, page.inflow["Na"], "2")
    assert page.let_go.isHidden(), "these jugs are for no crop there are figures of"
    page.crop.set_key("tomato")
    page.crop.chosen.emit("tomato")
    assert page.lines[0][0].accessibleName() == "11 %"
    page.crop.set_key("rose")
    page.crop.chosen.emit("rose")
    assert page.lines[0][0].accessibleName() == "30 %"
    assert "Agri Kultuur" in page.source.accessibleName()
    assert "may be one row off" in page.source.accessibleName()
    enter(qtbot, page.inflow["Na"], "12")
    assert "purer water" in page.loop_advice.accessibleName()


def test_the_crop_is_the_recipes_and_nothing_to_let_go_is_said_once(
    qtbot: QtBot, clock: Clock, dressed: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for lettuce in shown(lettuce_jugs(), clock, tmp_path, monkeypatch):
        page = injector(qtbot, lettuce)
        assert page.crop.key() == "lettuce"
        enter(qtbot, page.inflow["Na"], "0.1")
        enter(qtbot, page.inflow["Cl"], "0.1")
        assert page.loop_advice.accessibleName().startswith("Plants take all that comes in")
        assert [big.accessibleName() for big, _rest in page.lines] == ["", ""]


def test_figures_stand_on_the_scale_of_her_meter(qtbot: QtBot, hard: FeedSurface) -> None:
    """On one card no figure is in mS/cm beside others in µS/cm."""
    hard.controls.scale.set_key("µS/cm")
    hard.controls.scale.chosen.emit("µS/cm")
    mode(qtbot, hard, "topup")
    page = hard.topup
    assert page is not None
    assert float(page.wanted.text()) == pytest.approx(1660, abs=5)
    for field, text in ((page.left_l, "40"), (page.left_ec, "2100"), (page.fill_to_l, "100")):
        enter(qtbot, field, text)
    told = " ".join(row.accessibleName() for row in page.rows.values())
    assert "µS/cm" in told
    assert "mS/cm" not in told
    gauge = injector(qtbot, hard)
    assert float(gauge.rise.placeholderText()) == pytest.approx(1080, abs=10)
    enter(qtbot, gauge.hose, "1500")
    enter(qtbot, gauge.water, "480")
    assert "mS/cm" not in gauge.advice.accessibleName()
    hard.controls.scale.set_key("ppm-700")
    hard.controls.scale.chosen.emit("ppm-700")
    assert float(gauge.rise.placeholderText()) == pytest.approx(756, abs=7)


def test_what_plants_take_unfolds(qtbot: QtBot, feed: FeedSurface) -> None:
    page = topped(qtbot, feed)
    assert page.taken.isHidden()
    qtbot.mouseClick(page.unfold, Qt.MouseButton.LeftButton)
    assert page.taken.isVisible()
    assert page.taken.y() > page.left.geometry().bottom()


def test_no_part_of_a_mode_is_cut_or_overlaps(qtbot: QtBot, feed: FeedSurface) -> None:
    page = topped(qtbot, feed)
    page.unfold.setChecked(True)
    window = feed.window()
    for size in ((1024, 768), (683, 384), (512, 384)):
        window.resize(*size)
        QApplication.processEvents()
        cards = [page.left, page.options, page.table, page.taken]
        for card in cards:
            assert page.rect().contains(card.geometry()), size
            assert not [one for one in cards if one is not card and card.geometry().intersects(one.geometry())], size
            assert card.height() >= card.least_height(card.width()), size


def test_hard_water_is_topped_up_with_its_acid_first(qtbot: QtBot, hard: FeedSurface) -> None:
    """Nitric acid 60 %, 0.2 mL to a litre of this water; the aim's nitrogen is 130 mg/L with it."""
    mode(qtbot, hard, "topup")
    page = hard.topup
    assert page is not None
    for field, text in ((page.left_l, "300"), (page.left_ec, "1.66"), (page.fill_to_l, "400"), (page.wanted, "1.66")):
        enter(qtbot, field, text)
    assert page.acid.accessibleName() == (
        "First the acid: 20.0 mL of nitric acid 60 % into the 99 L of water, before the tanks."
    )
    assert page.care.accessibleName().startswith("Protection: face shield and goggles, acid gloves, apron, boots")
    assert "always the chemical into the water" in page.care.accessibleName()
    assert page.acid.y() < page.rows["water"].y()
    assert float(page.table._cells[1, 4].text()) == pytest.approx(129, abs=1)
    qtbot.mouseClick(page.rows["water"], Qt.MouseButton.LeftButton)
    assert "20.2 mL of nitric acid 60 % into the 100 L of water, before it goes in" in page.acid.accessibleName()


def test_soft_water_without_acid_is_topped_up_without_a_word_of_it(qtbot: QtBot, feed: FeedSurface) -> None:
    page = topped(qtbot, feed)
    assert (page.acid.accessibleName(), page.care.accessibleName()) == ("", "")
    assert page.acid.isHidden()


def test_what_to_wear_stands_at_the_acid_step_itself(qtbot: QtBot, hard: FeedSurface) -> None:
    """Before it is due and when it is, above the button that says it was done; the pH card says nothing of it yet."""
    (ahead,) = [line.words.accessibleName() for line in hard.steps.coming if "nitric acid" in line.words.text()]
    assert "Protection: face shield and goggles, acid gloves" in ahead
    enter(qtbot, hard.steps.now.reading, "0.48")
    now = hard.steps.now
    assert now.title.text() == "Acid into the water, before the tanks"
    assert now.care.accessibleName().startswith("Protection: face shield and goggles, acid gloves, apron, boots")
    assert "always the chemical into the water" in now.care.accessibleName()
    assert now.care.y() < now.button.y()
    assert hard.ph.care.accessibleName() == ""
