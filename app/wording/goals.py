"""Sentences about what the amounts are chosen for: the goals, why one cannot be had, and what could be left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_short
from app.wording.words import joined, salt_in_sentence

if TYPE_CHECKING:
    from core.plan.records import Caution

GOALS = {"closest": marked("closest fit"), "cheapest": marked("cheapest"), "fewest": marked("fewest salts")}

GOAL_TIPS = {
    "closest": marked("Every nutrient as near to its target as the shelf allows."),
    "cheapest": marked("Least cost with every target in its wanted range."),
    "fewest": marked("As few salts as keep every target in its wanted range, and the cheapest of those."),
}

NAMED = 2
"""Products named before the rest are counted."""


def goal_word(goal: str) -> str:
    """Return what a goal is called."""
    return _(GOALS[goal])


def goals() -> list[tuple[str, str]]:
    """Return the goals, each with its word."""
    return [(goal, goal_word(goal)) for goal in GOALS]


def goal_name() -> str:
    """Return what a screen reader calls the choice of a goal."""
    return _("What the amounts are chosen for")


def goal_tip(goal: str) -> str:
    """Return what a goal is."""
    return _(GOAL_TIPS[goal])


def goal_edit(goal: str) -> str:
    """Return what the menu calls the choice of a goal."""
    return _("goal: {goal}").format(goal=goal_word(goal))


def why_link() -> tuple[str, str]:
    """Return the link to the sheet that answers why, and what it is for."""
    return _("Why?"), _("Why these amounts: what holds them, what would help, the arithmetic behind any figure (F9)")


def prices_button() -> str:
    """Return the button that leads to where prices are entered."""
    return _("Enter prices…")


def leave_out_button() -> str:
    """Return the button that leaves out a salt the blend can do without."""
    return _("Leave it out")


def named(keys: list[str] | tuple[str, ...]) -> str:
    """Return products as a list in a sentence, the first few by name."""
    names = [salt_in_sentence(key) for key in keys]
    if len(names) > NAMED + 1:
        names = [*names[:NAMED], _("{count} more").format(count=len(names) - NAMED)]
    return joined(names)


def _of_no_prices(_caution: Caution) -> str:
    return _("Nothing has a price yet, so the closest fit is shown.")


def _of_ranges(_caution: Caution) -> str:
    return _("Not every target can be in its range, so the closest fit is shown.")


def _of_unproven(caution: Caution) -> str:
    data = caution.data
    return _("{count} found in the time allowed; fewer than {at_least} is proven impossible.").format(**data)


def _of_cost_unproven(caution: Caution) -> str:
    data = caution.data
    text = _("{count} salts is the fewest; as few could be up to {percent} % cheaper, the time ran out.")
    return text.format(count=data["count"], percent=format_short(data["percent"], 2))


def _of_unpriced(caution: Caution) -> str:
    return _("Left aside for want of a price: {salts}.").format(salts=named(caution.data["entry_ids"]))


NOTES = {
    "cheapest-no-prices": _of_no_prices,
    "cheapest-out-of-range": _of_ranges,
    "fewest-out-of-range": _of_ranges,
    "fewest-unproven": _of_unproven,
    "fewest-cost-unproven": _of_cost_unproven,
    "unpriced-aside": _of_unpriced,
}
"""Caution of a plan -> its short sentence beside the goal."""

PRICES_HELP = frozenset({"cheapest-no-prices", "unpriced-aside"})
"""Notes that prices would mend."""


def goal_note(caution: Caution) -> str:
    """Return in brief why a goal came out as it did, or nothing for a caution about something else."""
    tell = NOTES.get(caution.code)
    return "" if tell is None else tell(caution)


def spare_brief(entry_id: str) -> str:
    """Return an offer where there is little room."""
    return _("You can do without {salt}.").format(salt=salt_in_sentence(entry_id))


def spare_alone() -> str:
    """Return the link to an offer where there is no room for its sentence."""
    return _("One salt could go…")
