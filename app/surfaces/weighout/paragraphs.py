"""A card of lines that wrap: steps, boxes, anything that is read."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.widgets import theme
from app.widgets.laid_card import LaidCard, Text


class Paragraphs(LaidCard):
    """A card of lines, the one that matters now in strong letters."""

    def __init__(self, parent: QWidget, title: str = "") -> None:
        super().__init__(parent, title)
        self.lines: list[Text] = []

    def show_lines(self, title: str, lines: tuple[tuple[str, str], ...]) -> None:
        """Show these (kind, words): kind "now", "care", "small" or ""."""
        self.set_title(title)
        while len(self.lines) < len(lines):
            self.lines.append(Text(self))
            self.column.addWidget(self.lines[-1])
        for text, (kind, words) in zip(self.lines, lines, strict=False):
            text.setFont(theme.font(12.5 if kind in ("care", "small") else 13.5, strong=kind in ("now", "head")))
            text.set_role({"care": "check", "small": "muted", "done": "muted"}.get(kind, "text"))
            text.say(words)
        for text in self.lines[len(lines) :]:
            text.say("")
