"""The caution strip: worst first, three at most, the rest behind a count."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.widgets.caution_strip import CautionLine, CautionStrip
from app.widgets.link_button import LinkButton
from core.plan.records import Caution

NOTE = Caution("note", "coldest-assumed", {"coldest_c": 5})
CHECK = Caution("check", "acid-first", {"salts": ["nitric-acid"]})
STOP = Caution("stop", "alkalinity-unknown")
FOUR = (NOTE, CHECK, STOP, Caution("note", "scale-assumed"))


@pytest.fixture
def strip(dressed: None, qtbot: QtBot) -> CautionStrip:
    strip = CautionStrip(None)  # type: ignore[arg-type]
    strip.set_room(3)
    strip.resize(1300, 200)
    strip.show()
    return strip


def said(strip: CautionStrip) -> list[str]:
    lines = [line for line in strip.findChildren(CautionLine) if line.isVisible()]
    return [line.words() for line in sorted(lines, key=lambda line: line.y())]


def test_the_worst_stands_first_and_three_are_shown(strip: CautionStrip) -> None:
    strip.set_cautions(FOUR)
    assert [words.split(":")[0] for words in said(strip)] == ["stop", "check", "note"]


def test_the_rest_is_behind_a_count(qtbot: QtBot, strip: CautionStrip) -> None:
    strip.set_cautions(FOUR)
    more = strip.findChild(LinkButton)
    assert more is not None
    assert more.text() == "1 more"
    qtbot.keyClick(more, Qt.Key.Key_Space)
    assert len(said(strip)) == 4
    qtbot.mouseClick(more, Qt.MouseButton.LeftButton)
    assert len(said(strip)) == 3


def test_three_need_no_count(strip: CautionStrip) -> None:
    strip.set_cautions(FOUR[:3])
    more = strip.findChild(LinkButton)
    assert more is not None
    assert not more.isVisible()


def test_less_room_shows_fewer_but_never_hides_one_for_good(strip: CautionStrip) -> None:
    strip.set_room(2)
    strip.set_cautions(FOUR)
    more = strip.findChild(LinkButton)
    assert [words.split(":")[0] for words in said(strip)] == ["stop", "check"]
    assert more is not None
    assert more.text() == "2 more"


def test_its_height_does_not_follow_what_is_said(strip: CautionStrip) -> None:
    heights = set()
    for cautions in ((), FOUR[:1], FOUR):
        strip.set_cautions(cautions)
        heights.add(strip.height_for(1300))
    assert len(heights) == 1


def test_the_worst_is_said_in_full_where_it_is_narrow(strip: CautionStrip) -> None:
    strip.set_cautions((Caution("stop", "acid-handling", {"salts": ["nitric-acid"]}),))
    line = next(line for line in strip.findChildren(CautionLine) if line.isVisible())
    assert strip.height_for(400) >= line.height_for(400 - 32 - 104)


def test_that_there_is_nothing_is_said_too(strip: CautionStrip) -> None:
    strip.set_cautions(())
    assert said(strip) == ["Nothing to look out for in this plan."]
