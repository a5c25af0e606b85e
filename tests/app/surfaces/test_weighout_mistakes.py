"""Mistakes at the bench: taken back and undone step by step, asked back where they are plain, told on paper."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.paper.document import document
from app.paper.html import to_html
from app.session.demo import demo_recipe
from app.surfaces.tanks import TanksSurface
from app.widgets import theme
from core.logbook.progress import Progress
from core.logbook.records import MadeBatch
from tests.app.surfaces.weighout_bench import AtTheBench

CALCIUM = "calcium-nitrate-greenhouse"


def repaired(qtbot: QtBot, bench: AtTheBench) -> None:
    """Weigh 1500 g of calcium nitrate in place of 2337 g, and take the repair that is offered."""
    qtbot.keyClicks(bench.surface.now.other.field, "1500")
    qtbot.keyClick(bench.surface.now.other.field, Qt.Key.Key_Return)
    bench.wait()
    bench.surface.repair.button.click()
    bench.wait()
    assert bench.surface.now.weight.text().replace("\xa0", " ") == "+ 629 g"


def test_unticking_takes_back_what_was_added_not_what_was_in(qtbot: QtBot, bench: AtTheBench) -> None:
    repaired(qtbot, bench)
    bench.surface.now.button.click()
    bench.wait()
    assert bench.row(CALCIUM).line.done
    row = bench.row(CALCIUM)
    qtbot.mouseClick(row, Qt.MouseButton.LeftButton, pos=QPoint(28, row.height() // 2))
    bench.wait()
    assert bench.now() == CALCIUM
    assert bench.row(CALCIUM).line.was.replace("\xa0", " ") == "was 1 500 g"
    assert bench.surface.now.weight.text().replace("\xa0", " ") == "+ 629 g"


def test_weighing_is_undone_step_by_step(qtbot: QtBot, bench: AtTheBench) -> None:
    undo = bench.window.room.undo
    repaired(qtbot, bench)
    assert undo.undoText() == "weighing"
    qtbot.keyClick(bench.surface, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    bench.wait()
    assert not bench.surface.repair.isHidden()
    qtbot.keyClick(bench.surface, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    bench.wait()
    assert bench.session.weighing.progress == Progress()
    assert bench.row(CALCIUM).line.weight.replace("\xa0", " ") == "2 337 g"
    for _again in range(2):
        undo.activeStack().redo()
    bench.wait()
    assert bench.row(CALCIUM).line.more


def test_undo_at_the_bench_is_of_what_was_done_last(qtbot: QtBot, bench: AtTheBench) -> None:
    undo, field = bench.window.room.undo, bench.surface.bar.fields["tank"]
    bench.surface.now.button.click()
    bench.wait()
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "66")
    bench.wait()
    assert undo.undoText() == "batch size"
    undo.activeStack().undo()
    bench.wait()
    assert bench.recipe.batch.tank_volume_l == 60.0
    assert bench.row(CALCIUM).line.done
    bench.window.go_to("design")
    assert undo.activeStack() is bench.session.edits
    bench.window.go_to("weighout")
    assert undo.undoText() == "weighing"


def test_more_than_the_scale_carries_is_asked_back(qtbot: QtBot, bench: AtTheBench) -> None:
    now, field = bench.surface.now, bench.surface.now.other.field
    for again in (False, True):
        field.setFocus(Qt.FocusReason.TabFocusReason)
        qtbot.keyClicks(field, "12940")
        qtbot.keyClick(field, Qt.Key.Key_Return)
        bench.wait()
        assert "12940 g is more than this scale carries, 6 kg." in now.question.text().replace("\xa0", " ")
        assert bench.session.weighing.progress == Progress()
        if not again:
            qtbot.keyClick(field, Qt.Key.Key_Escape)
            assert now.question.isHidden()
    qtbot.keyClick(field, Qt.Key.Key_Return)
    bench.wait()
    assert now.question.isHidden()
    assert bench.session.weighing.progress.entered[0].weighed_g == 12_940.0


def test_escape_gives_the_button_back(qtbot: QtBot, bench: AtTheBench) -> None:
    field, button = bench.surface.now.other.field, bench.surface.now.button
    field.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClicks(field, "1,500")
    assert not button.isEnabled()
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert button.isEnabled()
    assert button.text().replace("\xa0", " ") == "Weighed 2 337 g"


def test_a_longer_sentence_is_laid_out_anew(bench: AtTheBench) -> None:
    strip = bench.surface.repair
    strip.say("Short.", "Do that")
    strip.resize(500, strip.height_for(500))
    strip.say("Far more is to be said in the same place, " * 4, "Do that")
    strip.resize(500, strip.height_for(500))
    assert strip.words.height() >= strip.words.heightForWidth(strip.words.width())
    strip.say(
        "Now it is a good deal longer than before and takes more lines than it took in this place. " * 3, "Do that"
    )
    assert strip.words.height() >= strip.words.heightForWidth(strip.words.width())


def test_the_sheet_tells_what_is_otherwise_at_the_bench(qtbot: QtBot, bench: AtTheBench) -> None:
    printing = bench.window.room.printing

    def printed() -> str:
        job = printing._job(None)
        assert job is not None
        html = to_html(document(job, ("sheet",), "."), "a4")
        return html.replace("\xa0", " ").replace("\u202f", " ")

    assert "This sheet is the plan" not in printed()
    bench.surface.now.button.click()
    bench.wait()
    assert "This sheet is the plan" not in printed()  # all that is in is as planned
    bench.session.weighing.edits.undo()
    bench.wait()
    qtbot.mouseClick(bench.row(CALCIUM), Qt.MouseButton.LeftButton, pos=QPoint(300, 10))
    repaired(qtbot, bench)
    assert "This sheet is the plan" in printed()
    assert "Calcium nitrate: 1 500 g is in, add 629 g." in printed()


@pytest.mark.parametrize("size", [(1366, 768), (1024, 768)])
def test_cards_and_cautions_share_their_edges(bench: AtTheBench, size: tuple[int, int]) -> None:
    """The cards of both surfaces and the cautions below them begin and end at one edge, with a gap between them."""
    room = bench.window.room
    bench.window.resize(*size)
    bench.wait()

    def edges(part: QWidget) -> tuple[int, int]:
        left = part.mapTo(room, QPoint(0, 0)).x()
        return left, left + part.width()

    found = {edges(bench.surface.bar), edges(room.cautions)}
    found.add((edges(bench.surface.now)[0], edges(bench.surface.bands)[1]))
    foot = bench.surface.mapTo(room, QPoint(0, bench.surface.height())).y()
    assert room.cautions.y() - foot == theme.px(theme.GAP)
    bench.window.go_to("tanks")
    bench.wait()
    tanks = room.surfaces["tanks"]
    assert isinstance(tanks, TanksSurface)
    found |= {edges(tanks.controls), edges(tanks.together), edges(room.cautions)}
    found.add((edges(tanks.cards[0])[0], edges(tanks.cards[1])[1]))
    assert found == {(theme.px(14), room.width() - theme.px(14))}
    assert tanks._scroll.verticalScrollBar().sizeHint().width() <= theme.px(14)


def test_a_batch_taken_as_planned_has_no_mark(bench: AtTheBench) -> None:
    batch = MadeBatch("2026-03-14-1", "2026-03-14", demo_recipe())
    bench.surface.mixed.show_batches((batch,))
    assert bench.surface.mixed.batches[0].words.text().endswith("(invented)")
