"""The two questions about files that need an answer before anything else: where to save, and whether to."""

from __future__ import annotations

from enum import Enum
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from app.wording import files as say


class Answer(Enum):
    """What becomes of unsaved changes."""

    SAVE = "save"
    DISCARD = "discard"
    CANCEL = "cancel"


def ask_where_to_save(window: QWidget, proposed: Path) -> Path | None:
    """Return the file to write, named with our ending where none was typed, or None; an old one is asked about."""
    dialog = QFileDialog(window, say.save_dialog(), str(proposed.parent.absolute()), say.save_filter())
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setFileMode(QFileDialog.FileMode.AnyFile)
    dialog.setDefaultSuffix(say.ENDING)
    dialog.selectFile(proposed.name)
    chosen = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    return Path(chosen[0]) if chosen else None


def ask_unsaved(window: QWidget, name: str) -> Answer:
    """Ask whether unsaved changes are saved, given up, or gone on with; to close the question is to go on."""
    question, about = say.ask_unsaved(name)
    box = QMessageBox(QMessageBox.Icon.Question, "", question, parent=window.window())
    box.setWindowModality(Qt.WindowModality.WindowModal)
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setInformativeText(about)
    roles = (
        QMessageBox.ButtonRole.AcceptRole,
        QMessageBox.ButtonRole.DestructiveRole,
        QMessageBox.ButtonRole.RejectRole,
    )
    save, discard, cancel = (box.addButton(text, role) for text, role in zip(say.unsaved_buttons(), roles, strict=True))
    box.setDefaultButton(save)
    box.setEscapeButton(cancel)
    box.exec()
    clicked = box.clickedButton()
    box.deleteLater()
    return Answer.SAVE if clicked is save else Answer.DISCARD if clicked is discard else Answer.CANCEL
