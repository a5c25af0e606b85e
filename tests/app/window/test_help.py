"""The help: four topics, all keys of the menus, all sources of the catalog."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication

from app.window.frame import MainWindow
from app.wording import guide
from core.catalog import sources

Settle = Callable[[MainWindow], None]


def topic(window: MainWindow, text: str) -> QAction:
    actions = window.titles["help"].actions()
    return next(action for action in actions if action.text().replace("&", "") == text)


def test_every_topic_opens_the_one_page(window: MainWindow) -> None:
    for name in guide.TOPICS:
        topic(window, guide.topic(name)[0].replace("&", "")).trigger()
        QApplication.processEvents()
        shown = window._menus.shown_help  # type: ignore[union-attr]
        assert shown is not None
        assert shown.isVisible()
    told = shown.page.toPlainText()
    assert "safety data sheets" in told
    assert "licensed practice" in told
    for source in sources().values():
        assert source.title in told
    shown.close()


def test_the_keys_are_those_of_the_menus(window: MainWindow) -> None:
    keys = topic(window, "Keys")
    assert keys.shortcut().toString() == "F1"
    keys.trigger()
    told = window._menus.shown_help.page.toPlainText()  # type: ignore[union-attr]
    for action in window.findChildren(QAction):
        if not action.shortcut().isEmpty():
            assert action.shortcut().toString(action.shortcut().SequenceFormat.NativeText) in told
            assert action.statusTip() in told
    for key, does in guide.keys_told():
        assert key in told
        assert does in told
    window._menus.shown_help.close()  # type: ignore[union-attr]
