"""Saving from the window, and what it says of the recipe's file: unsaved, changed elsewhere, open twice, recovered."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QWidget

from app.session.files import Elsewhere
from app.session.saving import ChangedElsewhere, SaveError, Why
from app.session.session import Session
from app.session.slot import Slot
from app.session.state import read_state, with_recent, write_state
from app.widgets.notice import Notice
from app.wording import files as say
from app.wording import window as say_window
from app.wording.refusals import refusal
from core.recipe import RecipeError, load

SAVING, ELSEWHERE, RECOVERY, KEEPING = "saving", "elsewhere", "recovery", "keeping"
"""What a notice of this module may be about."""


class Filing:
    """Everything that is asked or said about the recipe's file."""

    def __init__(self, window: QWidget, session: Session, notice: Notice) -> None:
        self._window = window
        self._session = session
        self._notice = notice
        self._left: list[Slot] = []
        session.opened.connect(self._forget)
        session.saved.connect(self._forget)
        if session.recovery is not None:
            session.recovery.failed.connect(self._cannot_keep)

    def save(self) -> bool:
        """Save to the recipe's file, asking for one where it has none, and return whether it is saved."""
        return self.save_as() if self._session.path is None else self._write(None)

    def save_as(self) -> bool:
        """Ask for a file, save to it, and return whether the recipe is saved."""
        from app.window import file_dialogs  # only when something is asked

        path, recipe = self._session.path, self._session.recipe
        if recipe is None:
            return False
        proposed = path or self.folder() / say.file_name(recipe.title)
        chosen = file_dialogs.ask_where_to_save(self._window, proposed)
        return chosen is not None and self._write(chosen, over=True)

    def folder(self) -> Path:
        """Return where files are looked for first: beside the recipe, beside the one used last, or with documents."""
        used = [] if self._session.path is None else [self._session.path]
        beside = [path.parent for path in (*used, *map(Path, read_state().recent)) if path.parent.is_dir()]
        documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        return next(iter(beside), Path(documents))

    def may_leave(self) -> bool:
        """Return whether the recipe may be given up: it is saved, or the person said so."""
        if not self._session.unsaved:
            return True
        from app.window import file_dialogs  # only when something is asked

        answer = file_dialogs.ask_unsaved(self._window, self._name())
        if answer is file_dialogs.Answer.SAVE:
            return self.save()
        return answer is file_dialogs.Answer.DISCARD

    def look(self) -> None:
        """Say what became of the file while the window was out of view."""
        found = self._session.elsewhere()
        if found is Elsewhere.CHANGED:
            offers = ((say.reload_button(), self.reload), (say.keep_button(), self._keep_mine))
            self._notice.say(say.changed_elsewhere(self._name()), offers, ELSEWHERE)
        elif found is Elsewhere.GONE:
            to_save = ((say.save_button(), self.save), (say.save_as_button(), self.save_as))
            self._notice.say(say.gone(self._name()), to_save, ELSEWHERE)
        elif self._session.open_twice():
            self._notice.say(say.open_twice(self._name()), ((say.save_as_button(), self.save_as),), ELSEWHERE)
        else:
            self._notice.clear(ELSEWHERE)

    def reload(self) -> None:
        """Open the file as it is now; the recipe in the window stays where it is refused."""
        path = self._session.path
        if path is None:
            return
        try:
            self._session.open(path)
        except RecipeError as error:
            offers = ((say.save_as_button(), self.save_as), (say.keep_button(), self._keep_mine))
            self._notice.say(say_window.cannot_open(refusal(error)), offers, ELSEWHERE)

    def offer_leftovers(self, found: list[Slot]) -> None:
        """Offer unsaved work that earlier windows left, the newest first; what is saved already is put away."""
        self._left = [slot for slot in found if not _is_saved(slot)]
        self._offer_next()

    def close(self) -> None:
        """Leave what was not decided on for the next start."""
        for slot in self._left:
            slot.release()
        self._left = []

    def _write(self, path: Path | None, *, over: bool = False) -> bool:
        try:
            self._session.save(path, over=over)
        except SaveError as error:
            self._say_not_saved(error)
            return False
        except ChangedElsewhere:
            offers = (
                (say.reload_button(), self.reload),
                (say.write_over_button(), lambda: self._write(None, over=True)),
                (say.save_as_button(), self.save_as),
            )
            self._notice.say(say.changed_before_saving(self._name()), offers, ELSEWHERE)
            return False
        if self._session.path is not None:
            write_state(with_recent(read_state(), self._session.path))
        return True

    def _say_not_saved(self, error: SaveError) -> None:
        save_as, again = (say.save_as_button(), self.save_as), (say.try_again_button(), self.save)
        offers = (
            ()
            if error.why is Why.NOT_A_RECIPE
            else (save_as, again)
            if error.path == self._session.path
            else (save_as,)
        )
        self._notice.say(say.not_saved(error.path.name, error.why.value, error.detail), offers, SAVING)

    def _keep_mine(self) -> None:
        self._session.keep_mine()
        self._notice.clear(ELSEWHERE)

    def _offer_next(self) -> None:
        if not self._left:
            self._notice.clear(RECOVERY)
            return
        slot, others = self._left[0], len(self._left) - 1
        discard = (say.discard_button(), self._discard_leftover)
        try:
            recipe = load(slot.copy)
        except RecipeError as error:
            self._notice.say(say.cannot_recover(refusal(error), str(slot.copy)), (discard,), RECOVERY)
            return
        origin, kept_at = slot.origin(), slot.copy.stat().st_mtime
        when = datetime.fromtimestamp(kept_at).strftime("%Y-%m-%d %H:%M")
        newer = origin is not None and origin.is_file() and origin.stat().st_mtime > kept_at
        said = say.recovered(origin.name if origin is not None else recipe.title, when, others, newer)
        self._notice.say(said, ((say.open_button(), self._open_leftover), discard), RECOVERY, calm=True)

    def _open_leftover(self) -> None:
        if not self.may_leave():
            return
        slot = self._left.pop(0)
        self._session.restore(load(slot.copy), slot)
        self._notice.clear(RECOVERY)
        self.close()
        self.look()

    def _discard_leftover(self) -> None:
        slot = self._left.pop(0)
        slot.empty()
        slot.release()
        self._offer_next()

    def _cannot_keep(self, reason: str) -> None:
        self._notice.say(say.no_recovery(reason), ((say.save_button(), self.save),), KEEPING)

    def _forget(self) -> None:
        """Another file, or this one freshly written: what was said of the last is no longer true."""
        for topic in (SAVING, ELSEWHERE, KEEPING):
            self._notice.clear(topic)

    def _name(self) -> str:
        path, recipe = self._session.path, self._session.recipe
        return path.name if path is not None else "" if recipe is None else recipe.title


def _is_saved(slot: Slot) -> bool:
    """Put a copy away whose file holds the same recipe, and return whether it was one."""
    origin = slot.origin()
    try:
        saved = origin is not None and load(slot.copy) == load(origin)
    except RecipeError:
        return False
    if saved:
        slot.empty()
        slot.release()
    return saved
