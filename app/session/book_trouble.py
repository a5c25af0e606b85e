"""What stands in the way of the logbook's file, in a sentence."""

from __future__ import annotations

from app.session.book import LeftAlone
from app.session.saving import SaveError
from app.wording import logbook_file as say
from app.wording.files import not_saved
from app.wording.refusals import refusal
from core.logbook.merge import Conflict


def trouble_text(error: Exception) -> str:
    """Return the sentence for what `Book.trouble` holds."""
    if isinstance(error, SaveError):
        return not_saved(error.path.name, error.why.value, error.detail)
    if isinstance(error, LeftAlone):
        return say.left_alone(refusal(error.error), error.instead.name)
    if isinstance(error, Conflict):
        return say.conflict(error.args[0])
    return say.not_written(refusal(error))
