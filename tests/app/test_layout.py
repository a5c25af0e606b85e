"""Nothing is cut and nothing overlaps: every surface and editor, at several sizes, in English and in longer words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QLabel, QWidget

from app.session import state
from app.widgets import paint, theme
from app.window.frame import LEAST_SIZE, MainWindow
from app.wording import language
from app.wording.surfaces import SURFACES
from tests.app.pictures import demo_window, names_given, show
from tests.app.seen import cramped, faults, overlapping, watched

TITLE_BAR = 38
"""What a desktop takes for the window's own title at the most [px]."""
LAPTOP, SMALL, DOUBLED = (1366, 768 - TITLE_BAR), (1024, 768 - TITLE_BAR), (683, 384)
SHEETS = ("edit-aim", "edit-water", "edit-shelf", "edit-tanks")
EVERYTHING = (*SURFACES, "compare-goals", "compare-crops", "compare-adapt", "chemistry", "why", *SHEETS)


@pytest.fixture
def shown(
    request: pytest.FixtureRequest, dressed: None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[MainWindow]:
    monkeypatch.setattr(state, "state_file", lambda: tmp_path / "window.json")
    language.speak(request.param)
    window = demo_window()
    window.show()
    yield window
    language.speak("")
    window.room.session.edits.setClean()
    window.close()


@pytest.mark.parametrize(
    ("shown", "size"),
    [("", SMALL), ("", DOUBLED), ("pseudo", SMALL), ("pseudo", LAPTOP)],
    indirect=["shown"],
    ids=["english-1024", "english-683", "longer-1024", "longer-1366"],
)
def test_no_text_is_cut_or_painted_over(shown: MainWindow, size: tuple[int, int]) -> None:
    shown.resize(*size)
    found = {}
    for surface in EVERYTHING:
        show(shown, surface)
        wrong = faults(shown, names_given(shown))
        if wrong:
            found[surface] = wrong
    assert found == {}


@pytest.mark.parametrize("shown", ["pseudo"], indirect=True)
def test_the_window_fits_a_small_screen(shown: MainWindow) -> None:
    """Neither its own least size nor that of anything in it is larger than a screen of 1024 x 768 takes."""
    shown.resize(10, 10)
    for surface in EVERYTHING:
        show(shown, surface)
        assert shown.minimumSizeHint().width() <= LEAST_SIZE[0]
        assert shown.minimumSizeHint().height() <= LEAST_SIZE[1]
    assert (shown.width(), shown.height()) == LEAST_SIZE
    assert LEAST_SIZE < (1000, 700)


class Sample(QWidget):
    """Paints two texts that run into each other, one of them too long for its place."""

    def paintEvent(self, _event: object) -> None:
        painter, ink = QPainter(self), theme.colours().text
        paint.text(painter, QRectF(0, 0, 60, 20), "much longer than its place", theme.font(), ink)
        paint.text(painter, QRectF(40, 0, 150, 20), "beside it", theme.font(), ink)


def test_the_check_itself_finds_what_is_wrong(dressed: None) -> None:
    window = QWidget()
    sample = Sample(window)
    sample.setGeometry(0, 0, 200, 20)
    label = QLabel("a label that needs far more room", window)
    label.setGeometry(0, 40, 50, 20)
    window.show()
    with watched() as painted:
        window.render(QPixmap(200, 80))
    assert [one.words for one in painted if one.cut] == ["much longer than its place"]
    assert len(cramped(window)) == 1
    assert len(overlapping(window, painted)) == 1
    window.deleteLater()
