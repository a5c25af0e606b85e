"""Weigh-out on the real engine: the whole of it by keys alone, and each part by mouse."""

from __future__ import annotations

import pytest
from msgspec import structs
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from app.session.demo import demo_recipe
from core.logbook.progress import Progress
from core.recipe.records import Scale
from tests.app.surfaces.weighout_bench import DATE, AtTheBench

KNO3, SULFATE, CALCIUM = "potassium-nitrate", "potassium-sulfate", "calcium-nitrate-greenhouse"


def press(qtbot: QtBot, key: Qt.Key) -> None:
    focused = QApplication.focusWidget()
    assert focused is not None
    qtbot.keyClick(focused, key)


def test_the_whole_of_it_by_keys_alone(qtbot: QtBot, bench: AtTheBench) -> None:
    assert bench.now() == CALCIUM
    assert bench.surface.now.weight.text().replace("\xa0", " ") == "2 337 g"
    bench.all_in(lambda: press(qtbot, Qt.Key.Key_Space))
    assert QApplication.focusWidget() is bench.surface.mixed.note  # one more Space mixes nothing
    qtbot.keyClicks(bench.surface.mixed.note, "by Ada")
    press(qtbot, Qt.Key.Key_Tab)
    press(qtbot, Qt.Key.Key_Return)
    bench.wait()
    (batch,) = bench.session.book.logbook.batches
    assert (batch.batch_id, batch.mixed_on, batch.note) == (f"{DATE}-1", DATE, "by Ada")
    assert batch.recipe == demo_recipe()
    assert batch.mark == bench.surface.sheet.mark
    assert {(one.tank, one.entry_id): one.weighed_g for one in batch.weighed}["A", KNO3] == 1294.0
    assert bench.session.weighing.progress == Progress()
    assert bench.now() == CALCIUM
    assert "In the logbook" in bench.surface.kept.words.text()


def test_what_went_in_is_typed_and_the_smallest_repair_is_offered(qtbot: QtBot, bench: AtTheBench) -> None:
    press(qtbot, Qt.Key.Key_Space)
    bench.wait()
    assert bench.now() == KNO3
    field = bench.surface.now.other.field
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "1500")
    assert bench.surface.now.button.text() == "Weighed 1500 g"
    qtbot.keyClick(field, Qt.Key.Key_Return)
    bench.wait()
    assert bench.row(KNO3).line.was.replace("\xa0", " ") == "was 1 500 g"
    said = bench.surface.repair.words.text().replace("\xa0", " ")
    assert "Potassium would be 185 mg/L, wanted 163 to 181" in said
    assert "weigh 386 g of potassium sulfate instead of 449 g" in said
    qtbot.mouseClick(bench.surface.repair.button, Qt.MouseButton.LeftButton)
    bench.wait()
    assert bench.surface.repair.isHidden()
    assert bench.row(SULFATE).line.weight.replace("\xa0", " ") == "386 g"
    assert bench.feed("K") == pytest.approx(180.6, abs=0.1)
    assert bench.feed("K") > 172.5


def test_a_small_mistake_changes_nothing_and_that_is_said(qtbot: QtBot, bench: AtTheBench) -> None:
    qtbot.keyClicks(bench.surface.now.other.field, "2350")
    qtbot.mouseClick(bench.surface.now.button, Qt.MouseButton.LeftButton)
    bench.wait()
    assert bench.now() == KNO3  # noted once, though the click took the keyboard nowhere
    assert bench.surface.repair.isHidden()
    assert "still in its range" in bench.surface.fine.words.text()


def test_too_little_is_added_to(qtbot: QtBot, bench: AtTheBench) -> None:
    qtbot.keyClicks(bench.surface.now.other.field, "1900")
    qtbot.keyClick(bench.surface.now.other.field, Qt.Key.Key_Return)
    bench.wait()
    assert "add " in bench.surface.repair.words.text()
    bench.surface.repair.button.click()
    bench.wait()
    assert bench.now() == CALCIUM
    assert bench.surface.now.weight.text().startswith("+")
    assert bench.row(CALCIUM).line.more
    bench.surface.now.button.click()
    bench.wait()
    assert bench.row(CALCIUM).line.done
    assert bench.surface.repair.isHidden()


def test_a_typed_weight_may_be_in_any_unit_and_nonsense_is_refused(qtbot: QtBot, bench: AtTheBench) -> None:
    field = bench.surface.now.other.field
    field.setFocus()
    qtbot.keyClicks(field, "soup")
    assert not bench.surface.now.button.isEnabled()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    bench.wait()
    assert bench.now() == CALCIUM
    field.selectAll()
    qtbot.keyClicks(field, "2.34 kg")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    bench.wait()
    assert bench.session.weighing.progress.entered[0].weighed_g == 2340.0


def test_rows_by_mouse(qtbot: QtBot, bench: AtTheBench) -> None:
    row = bench.row(SULFATE)
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton, pos=QPoint(28, row.height() // 2))
    bench.wait()
    assert bench.row(SULFATE).line.done
    assert bench.now() == "manganese-sulfate-monohydrate"  # the next one becomes the large one
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton, pos=QPoint(28, row.height() // 2))
    bench.wait()
    assert not bench.row(SULFATE).line.done
    boric = bench.row("boric-acid")
    qtbot.mouseClick(boric, Qt.MouseButton.LeftButton, pos=QPoint(300, boric.height() // 2))
    bench.wait()
    assert bench.now() == "boric-acid"
    assert not bench.row("boric-acid").line.done


def test_rows_by_keys(qtbot: QtBot, bench: AtTheBench) -> None:
    bench.row(CALCIUM).setFocus()
    press(qtbot, Qt.Key.Key_Down)
    assert QApplication.focusWidget() is bench.row(KNO3)
    press(qtbot, Qt.Key.Key_Space)
    bench.wait()
    assert bench.row(KNO3).line.done
    press(qtbot, Qt.Key.Key_Return)
    bench.wait()
    assert not bench.row(KNO3).line.done
    assert bench.now() == KNO3
    assert QApplication.focusWidget() is bench.surface.now.other.field
    assert "Potassium nitrate" in bench.surface.now.other.field.accessibleName()


def test_rows_say_what_they_are(bench: AtTheBench) -> None:
    name = bench.row(KNO3).accessibleName().replace("\xa0", " ")
    assert name == "Potassium nitrate 1 294 g, to weigh"
    assert bench.surface.bands.rows[0].accessibleName().startswith("Nitrogen: 130 mg/L, met; in 19 batches of 20")


def test_start_over_and_bring_back(qtbot: QtBot, bench: AtTheBench) -> None:
    tools = bench.surface.tools
    assert tools.over.isHidden()
    bench.surface.now.button.click()
    bench.wait()
    assert tools.over.text() == "Start over"
    qtbot.mouseClick(tools.over, Qt.MouseButton.LeftButton)
    bench.wait()
    assert not bench.row(CALCIUM).line.done
    assert tools.over.text() == "Bring the ticks back"
    qtbot.mouseClick(tools.over, Qt.MouseButton.LeftButton)
    bench.wait()
    assert bench.row(CALCIUM).line.done


def test_ticks_survive_another_surface_and_another_window(bench: AtTheBench) -> None:
    bench.surface.now.button.click()
    bench.wait()
    bench.window.go_to("design")
    bench.window.go_to("weighout")
    bench.wait()
    assert bench.row(CALCIUM).line.done
    bench.session.start(demo_recipe())  # as a window does that opens it anew
    bench.wait()
    assert bench.row(CALCIUM).line.done
    assert bench.now() == KNO3


def test_a_changed_recipe_says_which_weights_changed(qtbot: QtBot, bench: AtTheBench) -> None:
    bench.surface.now.button.click()
    bench.wait()
    field = bench.surface.bar.fields["tank"]
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "66")
    bench.wait()
    said = bench.surface.changed.words.text().replace("\xa0", " ")
    assert "calcium nitrate, calcium side: 2 337 g then, 2 570 g now" in said
    assert bench.row(CALCIUM).line.was.replace("\xa0", " ") == "was 2 337 g"
    bench.surface.changed.button.click()
    bench.wait()
    assert bench.surface.changed.isHidden()
    bench.session.edits.undo()
    bench.wait()
    assert not bench.surface.changed.isHidden()


def test_what_the_recipe_no_longer_asks_for_stops_the_mixing(bench: AtTheBench) -> None:
    bench.surface.now.button.click()
    bench.wait()
    recipe = bench.recipe
    bench.session.push("x", ("x",), structs.replace(recipe, shelf=recipe.shelf[1:]))
    bench.wait()
    assert "no longer asks for it there" in bench.surface.changed.words.text()
    assert bench.surface.changed.button.isHidden()
    assert "start over" in bench.surface.mixed.missing.text()
    assert not bench.surface.mixed.button.isEnabled()
    bench.session.edits.undo()
    bench.wait()
    assert bench.surface.changed.isHidden()


@pytest.mark.parametrize(
    ("way", "typed", "volume"),
    [("tank", {"tank": "50"}, 50.0), ("tank", {"tank": "10 US gal"}, 37.8541), ("feed", {"feed": "5000"}, 50.0),
     ("days", {"a_day": "150", "days": "35"}, 52.5), ("bag", {"bag": "2"}, None)],
)  # fmt: skip
def test_the_batch_is_sized_in_four_ways(
    qtbot: QtBot, bench: AtTheBench, way: str, typed: dict[str, str], volume: float | None
) -> None:
    bar = bench.surface.bar
    bar.way.setCurrentIndex(bar.way.findData(way))
    bar.way.activated.emit(bar.way.currentIndex())
    if way == "bag":
        bar.product.setCurrentIndex(bar.product.findData(KNO3))
        bar.product.activated.emit(bar.product.currentIndex())
        volume = 60.0 * 2000.0 / 1294.428  # what the plan takes for 60 L
    for name, text in typed.items():
        bar.fields[name].setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.keyClicks(bar.fields[name], text)
        bench.wait()
    assert bench.recipe.batch.tank_volume_l == pytest.approx(volume, rel=1e-5)
    assert bench.session.edits.undoText() == "batch size"
    while bench.session.edits.canUndo():
        bench.session.edits.undo()
    bench.wait()
    assert bench.recipe.batch.tank_volume_l == 60.0
    assert bar.fields["tank"].quantity() == 60.0


def test_more_than_four_weeks_is_advised_against(qtbot: QtBot, bench: AtTheBench) -> None:
    bar = bench.surface.bar
    bar.way.setCurrentIndex(bar.way.findData("days"))
    bar.way.activated.emit(bar.way.currentIndex())
    for name, text in (("a_day", "150"), ("days", "20")):
        bar.fields[name].setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.keyClicks(bar.fields[name], text)
    bench.wait()
    assert bar.advice.isHidden()
    bar.fields["days"].selectAll()
    qtbot.keyClicks(bar.fields["days"], "35")
    bench.wait()
    assert "3 to 4 weeks" in bar.advice.text()


def test_the_law_is_chosen_and_remembered(bench: AtTheBench) -> None:
    card = bench.surface.bands

    def low() -> float:
        assert bench.surface.sheet.reckoned is not None
        return bench.surface.sheet.reckoned.bands[0].low_mg_per_l

    before = low()
    card.law.setCurrentIndex(card.law.findData("none"))
    card.law.activated.emit(card.law.currentIndex())
    bench.wait()
    assert low() > before
    assert "Labels are taken as true" in card.foot.text()
    card.law.setCurrentIndex(card.law.findData("virginia"))
    card.law.activated.emit(card.law.currentIndex())
    bench.wait()
    assert "Ca" in card.bare.text()
    assert bench.session.weighing.habits.law == "virginia"


def test_weights_in_pounds_and_ounces(bench: AtTheBench) -> None:
    units = bench.surface.tools.units
    units.setCurrentIndex(units.findData("us"))
    units.activated.emit(units.currentIndex())
    bench.wait()
    assert "lb" in bench.row(CALCIUM).line.weight
    assert bench.surface.now.other.field.unit == "oz"


def test_what_to_wear_and_where_acid_goes(bench: AtTheBench) -> None:
    assert "goggles" in bench.surface.now.care.text()
    assert "damages eyes" in bench.surface.now.care.text().lower()
    told = [text.text().replace("\xa0", " ") for text in bench.surface.outside.lines if not text.isHidden()]
    assert any("nitric acid" in words for words in told)
    assert any("never water into acid" in words for words in told)


def test_a_trace_bottle_is_one_pour_told_in_millilitres(qtbot: QtBot, bench: AtTheBench) -> None:
    recipe = demo_recipe()
    batch = structs.replace(recipe.batch, tank_volume_l=2.0, scales=(Scale(3000, 1),))
    bench.session.start(structs.replace(recipe, batch=batch))
    bench.wait()
    pours = [row for row in bench.surface.rows() if row.line.item.from_bottle]
    assert [row.line.name for row in pours] == ["Trace bottle 2", "Trace bottle 3"]
    assert "once, for manganese sulfate" in pours[0].line.remark
    row = pours[0]
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton, pos=QPoint(300, row.height() // 2))
    bench.wait()
    now = bench.surface.now
    assert now.button.text() == "Poured 5 mL"
    assert now.other.field.unit == "mL"
    told = " ".join(text.text() for text in bench.surface.steps.lines if not text.isHidden()).replace("\xa0", " ")
    assert "Weigh once:" in told
    assert "how long it keeps was not found" in told
    qtbot.keyClicks(now.other.field, "6")
    qtbot.keyClick(now.other.field, Qt.Key.Key_Return)
    bench.wait()
    kept = bench.session.weighing.progress.entered
    assert len(kept) == 4
    assert pours[0].line.was.replace("\xa0", " ") == "was 6 mL"
    assert bench.feed("Mn") == pytest.approx(0.7 * 1.2, rel=1e-3)


def test_the_step_in_hand_stands_out(bench: AtTheBench) -> None:
    strong = [text.text() for text in bench.surface.steps.lines if text.font().weight() > 500 and not text.isHidden()]
    assert len(strong) == 1
    assert strong[0].startswith("2  Stir in calcium nitrate")


def test_a_recipe_with_nothing_to_weigh_says_so(bench: AtTheBench) -> None:
    acid_only = structs.replace(demo_recipe(), shelf=tuple(e for e in demo_recipe().shelf if e.salt == "nitric-acid"))
    bench.session.start(acid_only)
    bench.wait()
    said = [label.text() for label in bench.surface.findChildren(QLabel) if label.isVisible()]
    assert any("nothing to weigh" in words for words in said)


def test_two_batches_of_a_day_have_two_ids_and_their_labels(bench: AtTheBench, qtbot: QtBot) -> None:
    for _again in range(2):
        bench.all_in(bench.surface.now.button.click)
        bench.surface.mixed.button.click()
        bench.wait()
    assert [batch.batch_id for batch in bench.session.book.logbook.batches] == [f"{DATE}-1", f"{DATE}-2"]
    lines = bench.surface.mixed.batches
    with qtbot.waitSignal(bench.surface.print_wanted) as asked:
        lines[0].link.click()
    assert asked.args[0] in bench.session.book.logbook.batches
    bench.window.room.printing.dialog.reject()
