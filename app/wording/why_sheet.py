"""The sentences around the answers to "why?": headings, buttons, the choice of a figure to work out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.goals import goal_tip
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.why import change_text, is_told, price_text, step_text
from app.wording.words import joined, nutrient_word, salt_in_sentence

if TYPE_CHECKING:
    from core.blend.why_records import Price, Remedy
    from core.recipe.records import Recipe

HEADINGS = {
    "reasons": marked("Against the aim"),
    "binding": marked("Bounds that are reached, and what one step of them does"),
    "remedy": marked("Worth trying"),
    "spare": marked("What you could do without"),
    "unused": marked("On the shelf, not used"),
    "prices": marked("One step of a target"),
    "working": marked("The arithmetic behind a figure"),
}

OTHER_FIGURES = {"EC": marked("EC"), "cost": marked("cost of 1000 L")}


def heading(part: str) -> str:
    """Return what stands over a part of the answer."""
    return _(HEADINGS[part])


def goal_line(recipe: Recipe) -> str:
    """Return what the amounts were chosen for."""
    return goal_tip(recipe.goal)


def looking() -> str:
    """Return what stands there while the answer is worked out."""
    return _("Working it out…")


def cancel_button() -> str:
    """Return the button that gives the answer up."""
    return _("Cancel")


def given_up() -> str:
    """Return that the answer was given up."""
    return _("Given up. It is asked anew when the recipe changes.")


def cannot(reason: str) -> str:
    """Return that there is no answer."""
    return _("This could not be worked out: {reason}.").format(reason=reason.rstrip("."))


def nothing_off() -> str:
    """Return that there is nothing to explain away."""
    return _("Every target is in its range.")


def try_button() -> str:
    """Return the button that makes the edit that would help."""
    return _("Try it")


def remedy_sentence(remedy: Remedy) -> str:
    """Return the best thing to try and what it does, as a sentence."""
    text = figures.capital(step_text(remedy.step))
    moved = joined([change_text(change) for change in remedy.changes[:3]])
    if remedy.missed_after == 0:
        return _("{step}. Then every target is in its range: {moved}.").format(step=text, moved=moved)
    return _("{step}. Then {after} instead of {before} targets are out of range: {moved}.").format(
        step=text, after=remedy.missed_after, before=remedy.missed_before, moved=moved
    )


def steps_link(count: int) -> str:
    """Return the link that unfolds what one step of each target would do."""
    return _("What one step of a target would do, {count} lines").format(count=count)


def steps_words(prices: tuple[Price, ...], currency: str) -> str:
    """Return what one step to either side of every bound and target does, a line each."""
    return "\n".join(figures.capital(price_text(price, currency)) + "." for price in prices if is_told(price))


def figure_choice() -> str:
    """Return the label of the choice of a figure to work out."""
    return _("Figure")


def unit_choice() -> str:
    """Return the label of the choice of the unit a figure is told in."""
    return _("in")


def figure_word(key: str) -> str:
    """Return what a figure is called in the choice: a nutrient, a product, the EC, the cost."""
    if key in OTHER_FIGURES:
        return _(OTHER_FIGURES[key])
    word = nutrient_word(key)
    return f"{figures.symbol(key)}, {word}" if word != key else salt_in_sentence(key)


def copy_link() -> str:
    """Return the link that copies a working for a spreadsheet."""
    return _("Copy the lines")


def no_working(key: str) -> str:
    """Return why a figure cannot be worked out."""
    if key == "cost":
        return _("The cost cannot be worked out: something in use has no price.")
    return _("The EC cannot be worked out: the feed lies beyond what the chemistry holds for.")


def by_hand() -> str:
    """Return what the lines of a working are good for."""
    return _("Each line follows from its own numbers; figures are rounded to four digits.")
