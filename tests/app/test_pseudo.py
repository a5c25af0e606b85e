"""Every sentence passes through the wording: in the pseudo-language nothing English is left to see or to hear."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtWidgets import QApplication

from app.window.frame import MainWindow
from app.wording import caution_text, language
from app.wording.surfaces import SURFACES
from core.plan.cautions import REGISTRY
from tests.app.pseudo_words import OWN
from tests.app.seen import said, untranslated, watched
from tests.app.wording.test_cautions import sample as sample_caution
from tests.helpers.messages import IN_APP, calls, messages

Settle = Callable[[MainWindow], None]


@pytest.fixture
def pseudo() -> Iterator[None]:
    """The language made up for tests, in place before any text is asked for."""
    language.speak("pseudo")
    yield
    language.speak("")


def left_over(window: MainWindow) -> dict[str, list[str]]:
    """Return every English text of a window, with the words that tell."""
    with watched() as painted:
        window.repaint()
        window.grab()
    QApplication.processEvents()
    texts = {one.words for one in painted} | {words for _widget, words in said(window)}
    found = {words: untranslated(words, OWN) for words in texts}
    return {words: plain for words, plain in found.items() if plain}


def test_the_language_itself(pseudo: None) -> None:
    made = language.gettext("Take {count} of <b>all</b> in {number} mL (*.saltwright)")
    assert made == "Tákééé {count} óóf <b>áááll</b> íín {number} mL (*.saltwright)"
    long = "Calcium and phosphate cloud this feed"
    assert len(language.gettext(long)) >= 1.4 * len(long)


@pytest.mark.parametrize("surface", SURFACES)
def test_no_surface_shows_english(pseudo: None, window: MainWindow, settled: Settle, surface: str) -> None:
    window.go_to(surface)
    settled(window)
    assert left_over(window) == {}


@pytest.mark.parametrize("editor", ["aim", "water", "shelf", "tanks", "why", "adapt"])
def test_no_editor_shows_english(pseudo: None, window: MainWindow, settled: Settle, editor: str) -> None:
    window.room.editors.open(editor)
    settled(window)
    assert left_over(window) == {}


def test_no_help_is_in_english(pseudo: None, window: MainWindow) -> None:
    window._menus.help("how")  # type: ignore[union-attr]
    page = window._menus.shown_help.page  # type: ignore[union-attr]
    assert untranslated(page.toPlainText(), OWN | {"Home", "Space", "Tab", "Enter", "Del", "Ins"}) == []
    window._menus.shown_help.close()  # type: ignore[union-attr]


@pytest.mark.parametrize("code", sorted(REGISTRY))
def test_no_caution_is_english(pseudo: None, code: str) -> None:
    assert untranslated(caution_text(sample_caution(code)), OWN | {"bag"}) == []


def test_every_text_given_to_the_language_can_be_found_by_a_translator() -> None:
    """Anything but a literal, or an entry of a marked table, would never get into a catalogue."""
    odd = []
    for path, call in calls("app", IN_APP):
        node = call.args[0]
        looked_up = isinstance(node, ast.Name | ast.Attribute | ast.Subscript | ast.Call)
        if not isinstance(node, ast.Constant) and not (looked_up and call.func.id != "marked"):  # type: ignore[attr-defined]
            odd.append(f"{path.name}:{call.lineno} {ast.unparse(node)}")
    assert odd == []


def test_every_text_asked_for_is_one_a_translator_was_given(
    window: MainWindow, settled: Settle, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: set[str] = set()

    class Listening(language.NullTranslations):
        def gettext(self, message: str) -> str:
            asked.add(message)
            return message

    monkeypatch.setattr(language, "_translations", Listening())
    for surface in SURFACES:
        window.go_to(surface)
        settled(window)
    for editor in ("aim", "water", "shelf", "tanks", "why", "adapt"):
        window.room.editors.open(editor)
        settled(window)
    for code in REGISTRY:
        caution_text(sample_caution(code))
    assert len(asked) > 150
    assert asked - messages() == set()
