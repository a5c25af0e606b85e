"""Tells of a fault of the program itself, with a report to copy; nothing is sent anywhere."""

from __future__ import annotations

from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from app.widgets import theme
from app.wording import files as say


class FaultDialog(QDialog):
    """The report, and whether to go on."""

    def __init__(self, window: QWidget, report: str) -> None:
        super().__init__(window)
        self.setWindowTitle(say.fault_title())
        told = QLabel(say.fault_text(), self)
        told.setWordWrap(True)
        self.report = QPlainTextEdit(report, self)
        self.report.setReadOnly(True)
        self.report.setTabChangesFocus(True)
        self.report.setAccessibleName(say.fault_report_name())
        self.report.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        copy, leave, go_on = say.fault_buttons()
        buttons = QDialogButtonBox(self)
        self.copy = buttons.addButton(copy, QDialogButtonBox.ButtonRole.ActionRole)
        self.leave = buttons.addButton(leave, QDialogButtonBox.ButtonRole.DestructiveRole)
        self.go_on = buttons.addButton(go_on, QDialogButtonBox.ButtonRole.AcceptRole)
        self.copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.report.toPlainText()))
        self.leave.clicked.connect(self.reject)
        self.leave.clicked.connect(window.close)
        self.go_on.clicked.connect(self.accept)
        self.go_on.setDefault(True)
        column = QVBoxLayout(self)
        for part in (told, self.report, buttons):
            column.addWidget(part)
        self.resize(theme.px(640), theme.px(420))
