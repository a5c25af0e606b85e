"""Works the chemistry of a recipe out behind the window, and only ever the newest that was asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject, Signal, Slot

from app.wording.refusals import refusal
from core.recipe.records import Recipe

if TYPE_CHECKING:
    from core.plan.chemistry_details import FeedChemistry
    from core.plan.titration import Titration

Behind = Callable[[Callable[[], None]], None]
"""Does a piece of work behind the window."""


class Offer(NamedTuple):
    """An acid or base that can be looked at."""

    key: str
    salt: str
    strength_percent: float | None
    on_shelf: bool


class Looked(NamedTuple):
    """What was found: the chemistry and a titration, or why there is none."""

    recipe: Recipe
    chemistry: FeedChemistry | None
    titration: Titration | None
    alkalinity_meq_per_l: float
    offers: tuple[Offer, ...]
    fault: str = ""


def look(recipe: Recipe, acid: str) -> Looked:
    """Return the chemistry of a recipe's feed and its titration with an acid; "" leaves the choice to us."""
    from core.chemistry import OutOfRange
    from core.plan import solve
    from core.plan.chemistry_details import feed_chemistry
    from core.plan.titration import titration

    offers = offered(recipe)
    try:
        blend = solve(recipe)
        used = {s.key for s, x in zip(blend.shelf.sources, blend.amounts_mg_per_l, strict=True) if x > 0.0}
        named = {offer.key: offer for offer in offers}
        chosen = named.get(acid) or next((offer for offer in offers if offer.key in used), offers[0])
        curve = titration(recipe, blend, chosen.key, None if chosen.on_shelf else chosen.strength_percent)
        return Looked(recipe, feed_chemistry(blend), curve, blend.alkalinity_left, offers)
    except OutOfRange as error:
        return Looked(recipe, None, None, 0.0, offers, refusal(error))


def offered(recipe: Recipe) -> tuple[Offer, ...]:
    """Return the acids and bases of the shelf, or where it holds no acid those of the catalog after them."""
    from core.catalog import salts

    listed = salts()
    own = [
        Offer(entry.key, entry.salt, entry.strength_percent, on_shelf=True)
        for entry in recipe.shelf
        if entry.salt in listed and listed[entry.salt].kind in ("acid", "base") and _moves_ph(entry.salt)
    ]
    if not any(listed[offer.salt].kind == "acid" for offer in own):
        usual = [salt for salt in listed.values() if salt.kind == "acid" and salt.default_strength_percent is not None]
        own += [Offer(salt.id, salt.id, salt.default_strength_percent, on_shelf=False) for salt in usual]
    return tuple(own)


def _moves_ph(salt_id: str) -> bool:
    from core.chemistry import ACIDS_AND_BASES

    return salt_id in ACIDS_AND_BASES


class Looking(QObject):
    """Asks for one look at a time.

    Signals
    -------
    looked : a `Looked` for the newest question; those overtaken are dropped.
    """

    looked = Signal(object)
    _returned = Signal(int, object)

    def __init__(self, parent: QObject, behind: Behind) -> None:
        super().__init__(parent)
        self._behind = behind
        self._number = 0
        self._busy = False
        self._waiting: tuple[Recipe, str] | None = None
        self._returned.connect(self._take)

    def ask(self, recipe: Recipe, acid: str) -> None:
        """Look at this recipe's feed with this acid; it overtakes every earlier question."""
        self._number += 1
        self._waiting = (recipe, acid)
        if not self._busy:
            self._begin()

    def idle(self) -> bool:
        """Return whether nothing asked for is still to be answered."""
        return not self._busy

    def withdraw(self) -> None:
        """Want no answer any more."""
        self._number += 1
        self._waiting = None

    def _begin(self) -> None:
        if self._waiting is None:
            return
        (recipe, acid), number = self._waiting, self._number
        self._waiting, self._busy = None, True

        def work() -> None:
            self._returned.emit(number, _answer(recipe, acid))

        self._behind(work)

    @Slot(int, object)
    def _take(self, number: int, looked: Looked) -> None:
        self._busy = False
        if number == self._number:
            self.looked.emit(looked)
        self._begin()


def _answer(recipe: Recipe, acid: str) -> Looked:
    try:
        return look(recipe, acid)
    except Exception as error:  # noqa: BLE001  # the window outlives any fault and says it
        import logging  # needed for faults only

        logging.getLogger(__name__).info("no chemistry", exc_info=error)
        return Looked(recipe, None, None, 0.0, (), refusal(error) or type(error).__name__)
