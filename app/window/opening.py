"""Ways to open a recipe: by dialog, by dropping a file, by name; what is refused is said in the window."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QMimeData
from PySide6.QtWidgets import QWidget

from app.session.demo import demo_plan, demo_recipe
from app.session.session import Session
from app.session.state import read_state, with_recent, write_state
from app.widgets.notice import Notice
from app.window.filing import Filing
from app.wording import window as say
from app.wording.refusals import refusal, what_is_wrong
from core.recipe import Recipe, RecipeError
from core.recipe.errors import DamagedFile


class Opening:
    """Opens recipes into the session; the recipe in the window stays where one is refused."""

    def __init__(self, window: QWidget, session: Session, notice: Notice) -> None:
        self._window = window
        self._session = session
        self._notice = notice
        self.filing = Filing(window, session, notice)

    def open(self, path: Path) -> bool:
        """Open this file; says why not where it is refused, and returns whether it was opened."""
        if not self.filing.may_leave():
            return False
        try:
            self._session.open(path)
        except RecipeError as error:
            self._say_refused(path, error)
            return False
        self._notice.clear()
        write_state(with_recent(read_state(), path))
        self.filing.look()
        return True

    def _say_refused(self, path: Path, error: RecipeError) -> None:
        offers = ((say.open_another_button(), self.ask), (say.show_folder_button(), lambda: _show_folder(path)))
        if isinstance(error, DamagedFile):
            self._notice.say(say.damaged(path.name, what_is_wrong(error.what)), offers)
        else:
            self._notice.say(say.cannot_open(refusal(error)), offers[:1])

    def ask(self) -> None:
        """Let the person choose a file."""
        from PySide6.QtWidgets import QFileDialog

        folder = str(self.filing.folder())
        name, _filter = QFileDialog.getOpenFileName(self._window, say.open_dialog(), folder, say.file_filter())
        if name:
            self.open(Path(name))

    def new(self) -> None:
        """Begin an empty recipe."""
        if self.filing.may_leave():
            self._notice.clear()
            self._session.start(Recipe(format="saltwright-recipe", schema=1, shelf=()))

    def demo(self, *, keep_notice: bool = False) -> None:
        """Open the recipe the program ships with; its plan is shown at once and made anew behind it."""
        if not self.filing.may_leave():
            return
        if not keep_notice:
            self._notice.clear()
        self._session.start(demo_recipe(), plan=demo_plan())
        self._session.verify()

    def welcome(self) -> None:
        """Say, on the first start, what is in the window and how to begin one's own."""
        self._notice.say(say.welcome(), ((say.begin_own_button(), self.new),), calm=True)

    def takes(self, dropped: QMimeData) -> bool:
        """Return whether something dragged over the window is one file."""
        return len(dropped.urls()) == 1

    def drop(self, dropped: QMimeData) -> None:
        """Open the file that was dropped."""
        url = dropped.urls()[0]
        if url.isLocalFile():
            self.open(Path(url.toLocalFile()))
        else:
            self._notice.say(say.cannot_open(say.not_a_recipe()))


def _show_folder(path: Path) -> None:
    """Have the desktop show the folder a file lies in."""
    from PySide6.QtCore import QUrl
    from PySide6.QtGui import QDesktopServices

    QDesktopServices.openUrl(QUrl.fromLocalFile(str(path.absolute().parent)))
