"""The help: one page that can be read, searched by eye and copied, opened at the topic asked for."""

from __future__ import annotations

import html
from collections.abc import Iterable

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QTextBrowser, QVBoxLayout, QWidget

from app.widgets import theme
from app.wording import guide as say

KEYS_OF_MENU = QKeySequence.SequenceFormat.NativeText


class HelpDialog(QDialog):
    """Shows every topic below one another; it stays open beside the window."""

    def __init__(self, window: QWidget, actions: Iterable[QAction]) -> None:
        super().__init__(window)
        self.setWindowTitle(say.contents_name())
        self.page = QTextBrowser(self)
        self.page.setAccessibleName(say.contents_name())
        self.page.setOpenLinks(False)
        self.page.setTabChangesFocus(True)
        self.page.setHtml(_page(actions))
        buttons = QDialogButtonBox(self)
        close = buttons.addButton(say.close_button(), QDialogButtonBox.ButtonRole.RejectRole)
        close.clicked.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self.page)
        column.addWidget(buttons)
        self.resize(theme.px(620), theme.px(520))

    def show_topic(self, name: str) -> None:
        """Open at this topic."""
        self.show()
        self.activateWindow()
        self.page.scrollToAnchor(name)
        self.page.setFocus()


def _page(actions: Iterable[QAction]) -> str:
    parts = []
    for name in say.TOPICS:
        title = html.escape(say.topic(name)[0].replace("&", ""))
        parts.append(f'<h3><a name="{name}"></a>{title}</h3>')
        if name == "keys":
            parts.append(_table((*_of_menus(actions), *say.keys_told())))
        elif name == "sources":
            parts += [f"<p>{html.escape(say.sources_intro())}</p>", _sources()]
        else:
            parts += [f"<p>{html.escape(text)}</p>" for text in say.paragraphs(name)]
    return "\n".join(parts)


def _of_menus(actions: Iterable[QAction]) -> list[tuple[str, str]]:
    return [
        (action.shortcut().toString(KEYS_OF_MENU), action.statusTip() or action.text().replace("&", ""))
        for action in actions
        if not action.shortcut().isEmpty()
    ]


def _sources() -> str:
    from core.catalog import sources

    lines = []
    for source in sorted(sources().values(), key=lambda one: one.author.casefold()):
        year = "" if source.year is None else f" {source.year}"
        told = ", ".join(part for part in (f"{source.author}{year}", source.title, source.where) if part)
        lines.append(f"<li>{html.escape(told)}</li>")
    return f"<ul>{''.join(lines)}</ul>"


def _table(rows: Iterable[tuple[str, str]]) -> str:
    cells = (f"<tr><td><b>{html.escape(key)}</b></td><td>{html.escape(does)}</td></tr>" for key, does in rows)
    return f'<table cellpadding="3">{"".join(cells)}</table>'
