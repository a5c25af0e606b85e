"""What a form holds: taken into the recipe as soon as it can be, kept as typed for as long as it cannot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from app.session.edits import Path
from app.session.session import Session
from app.wording import editors as say
from core.recipe import RecipeError
from core.recipe.records import Recipe

T = TypeVar("T")


class Draft(Generic[T]):
    """One part of the recipe as a form shows it.

    A part that is refused stays in the form with the reason, and the recipe keeps its last good one; whatever is
    changed next is tried together with it.

    Attributes
    ----------
    value : the part as the form shows it.
    fault : RecipeError of the last try, None once it was taken.
    """

    def __init__(
        self,
        session: Session,
        part_of: Callable[[Recipe], T],
        put_into: Callable[[Recipe, T], Recipe],
        told: Callable[[], object],
    ) -> None:
        self.session = session
        self._part_of = part_of
        self._put_into = put_into
        self._told = told
        assert session.recipe is not None, "editors open on a recipe"
        self.value = self._seen = part_of(session.recipe)
        self.fault: RecipeError | None = None
        self._shown: tuple[T, RecipeError | None] | None = None

    def change(self, label: str, path: Path, value: T) -> None:
        """Show this part from now on and take it into the recipe if it can be.

        Parameters
        ----------
        label : what the edit is called in the menu.
        path : the field it touches; edits of one field in quick succession are one.
        """
        recipe = self.session.recipe
        if recipe is None:
            return
        self.value = value
        try:
            self.session.push(label, path, self._put_into(recipe, value))
        except RecipeError as error:
            self.fault = error
        else:
            self.fault, self._seen = None, value
        self._tell()

    def follow(self, recipe: Recipe) -> None:
        """Show what the recipe holds now, unless it still holds what was there when a draft was refused."""
        now = self._part_of(recipe)
        if now != self._seen or self.fault is None:
            self.value, self._seen, self.fault = now, now, None
        self._tell()

    def _tell(self) -> None:
        """Have the form shown anew, unless it shows all this already."""
        if self._shown is None or self._shown[0] != self.value or self._shown[1] is not self.fault:
            self._shown = (self.value, self.fault)
            self._told()

    def reason(self) -> str:
        """Return why the form's contents are not in the recipe, or nothing."""
        return "" if self.fault is None else say.not_taken(self.fault.path, self.fault.what, self.fault.mend)
