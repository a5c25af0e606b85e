"""The batch that was weighed, as the record the logbook keeps."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import structs

from app.session import clock
from core.logbook.reckoning import batch_in_hand

if TYPE_CHECKING:
    from app.session.session import Session
    from core.logbook.records import MadeBatch
    from core.logbook.worklist import ToWeigh
    from core.recipe.records import Recipe


def made_batch(recipe: Recipe, mark: str, items: Sequence[ToWeigh], session: Session, note: str) -> MadeBatch:
    """Return the batch as it was mixed, dated now, with an id no other batch of the logbook has."""
    date = clock.today_text()
    taken = {batch.batch_id for batch in session.book.logbook.batches}
    number = next(n for n in range(1, len(taken) + 2) if f"{date}-{n}" not in taken)
    batch = batch_in_hand(recipe, items, session.weighing.progress)
    return structs.replace(batch, batch_id=f"{date}-{number}", mixed_on=date, mark=mark, note=note)
