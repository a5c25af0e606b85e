"""Which reservoir, tanks and water of the logbook the dosing goes by, and the entry it ends in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import structs

from app.surfaces.feed.dosing import Dosing, Using
from app.wording import feed_surface as say
from app.wording.refusals import refusal
from app.wording.words import crop_words

if TYPE_CHECKING:
    from app.session.session import Session
    from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir
    from core.plan.feeding_records import Feeding
    from core.recipe.records import Recipe, Water

NONE, OWN = "", ""
"""Keys of no reservoir, of the open recipe's tanks, of their own water."""


class Choosing:
    """Keys of the three choices; what the logbook no longer holds is forgotten."""

    def __init__(self, session: Session, dosing: Dosing) -> None:
        self._session = session
        self._dosing = dosing
        self.logbook: Logbook | None = None
        self.reservoir, self.batch_id, self._water = NONE, OWN, OWN

    def show_book(self) -> None:
        """Take the logbook as it is now."""
        self.logbook = self._session.book.logbook
        if self.chosen() is None:
            self.reservoir = NONE
        if self._batch() is None:
            self.batch_id = OWN

    def forget(self) -> None:
        """Choose nothing of the logbook."""
        self.reservoir, self.batch_id, self._water = NONE, OWN, OWN
        self._dosing.reservoir = NONE

    def choose(self, which: str, key: str) -> None:
        """Choose a reservoir, tanks or a water; a reservoir brings its own water with it."""
        if which == "reservoir":
            self.reservoir = key
            self._water = key if key and self._water_of(key) is not None else OWN
        elif which == "tanks":
            self.batch_id = key
        else:
            self._water = key

    def key(self, which: str) -> str:
        """Return the key chosen."""
        return {"reservoir": self.reservoir, "tanks": self.batch_id, "water": self._water}[which]

    def names(self) -> tuple[str, ...]:
        """Return the reservoirs of the logbook."""
        return tuple(one.name for one in self._reservoirs())

    def pairs(self, which: str) -> list[tuple[str, str]]:
        """Return what may be chosen."""
        recipe = self._session.recipe
        if which == "reservoir":
            return [(NONE, say.no_reservoir()), *((name, name) for name in self.names())]
        if which == "tanks":
            batches = reversed(self.logbook.batches) if self.logbook is not None else ()
            return [(OWN, say.planned_tanks()), *((batch.batch_id, say.batch(batch)) for batch in batches)]
        own_water = "" if recipe is None else recipe.water.name
        waters = [(one.name, one.water.name or one.name) for one in self._reservoirs() if one.water is not None]
        return [(OWN, say.own_water(own_water)), *waters]

    def using(self, recipe: Recipe) -> Using:
        """Return the tanks and the water chosen."""
        batch, water = self._batch(), self._water_of(self._water)
        if batch is None:
            return Using(recipe, water)
        from core.logbook.batches import as_mixed, tanks_of_batch

        return Using(as_mixed(batch) if tanks_of_batch(batch) else batch.recipe, water, batch.batch_id)

    def chosen(self) -> Reservoir | None:
        """Return the reservoir chosen."""
        return next((one for one in self._reservoirs() if one.name == self.reservoir), None)

    def volume_l(self) -> float:
        """Return what the chosen reservoir holds when it is full, else what is stated."""
        reservoir = self.chosen()
        return self._dosing.asked.volume_l if reservoir is None else reservoir.volume_l

    def crop(self, recipe: Recipe | None) -> str:
        """Return the crop whose profile the wanted band is of, "" where it is none's."""
        using = self._dosing.using
        aim = using.recipe.aim if using is not None else None if recipe is None else recipe.aim
        if aim is None or aim.crop is None:
            return ""
        from core.catalog import crops

        profile = next((one for one in crops() if one.id == aim.crop), None)
        if profile is None or profile.ec_low_ms_per_cm is None or profile.ec_is_rise_over_water:
            return ""
        return crop_words(profile.crop, profile.stage)[0]

    def write(self, name: str, new: bool, told: Feeding, at: str) -> str:
        """Write the dosing into a diary, in one change that can be undone; return why it is not there."""
        from core.logbook.records import Reservoir
        from core.recipe import RecipeError

        book, entry = self._session.book, self._entry(told, at)
        before = book.logbook
        try:
            if new:
                made = Reservoir(name, told.volume_l, self._water_of(self._water), (entry,))
                book.push(say.write_label(name), structs.replace(before, reservoirs=(*before.reservoirs, made)))
            else:
                book.add_entry(say.write_label(name), name, entry)
        except RecipeError as error:
            return refusal(error)
        self.reservoir = name
        self.show_book()
        return say.not_on_disk() if book.unwritten else ""

    def _entry(self, told: Feeding, at: str) -> Entry:
        """One entry for all that was done; tanks that are no batch of the logbook stand in its note."""
        from core.logbook.records import Entry

        dosing, batch = self._dosing, self._batch()
        fresh = dosing.asked.holds == "water"
        shelf = set() if batch is None else {one.key for one in batch.recipe.shelf}
        acid = {drop.key: drop.amount for drop in told.drops if drop.unit == "mL"}
        in_book = batch is not None and set(acid) <= shelf
        recipe = dosing.using.recipe if dosing.using is not None else None
        return Entry(
            at=at,
            fresh=fresh,
            water_l=(told.start_l if fresh else 0.0) + told.water_l or None,
            batch_id="" if batch is None or not in_book else batch.batch_id,
            parts_ml=dict(told.parts_ml) if in_book else {},
            acid_ml=acid if in_book else {},
            level_l=told.volume_l,
            ec_ms_per_cm=told.ec_ms_per_cm,
            ph=told.read_ph,
            temperature_c=None if dosing.meter.compensates else dosing.meter.temperature_c,
            meter=dosing.meter.unit,
            note="" if in_book else say.note_of(told, dosing.system, "" if recipe is None else recipe.title),
        )

    def _reservoirs(self) -> tuple[Reservoir, ...]:
        return () if self.logbook is None else self.logbook.reservoirs

    def _batch(self) -> MadeBatch | None:
        batches = () if self.logbook is None else self.logbook.batches
        return next((one for one in batches if one.batch_id == self.batch_id), None)

    def _water_of(self, name: str) -> Water | None:
        return next((one.water for one in self._reservoirs() if one.name == name), None)
