"""Sentences for correcting a reservoir from a laboratory's report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_number, format_short
from app.wording.words import joined, nutrient_word, salt_in_sentence

if TYPE_CHECKING:
    from core.plan.correction import Addition, Corrected


def drain_text(found: Corrected) -> str:
    """Return what to drain first, or that nothing needs draining."""
    if found.drain_l <= 0.0:
        return _("Drain nothing.")
    return _("Drain {drain} L ({percent} %) and fill up with the recipe's own water.").format(
        drain=format_number(found.drain_l), percent=format_short(100.0 * found.drain_share, 2)
    )


def addition_text(addition: Addition) -> str:
    """Return how much of a product goes into the reservoir: grams, or millilitres of a liquid."""
    if addition.millilitres is None:
        return _("{number} g").format(number=format_number(addition.grams))
    return _("{number} mL").format(number=format_number(addition.millilitres))


def turn_text(turn: str, *, drained: bool) -> str:
    """Return when and how the products of a turn go in; drained where water is filled in before."""
    if turn == "first" and drained:
        return _("First the acid, into the water that fills it up, before anything else:")
    return {
        "first": _("First the acid, into the reservoir, before anything else:"),
        "then": _("Then add one after another, each in its own bucket of water, stirring:"),
        "last": _("The acid last, a little at a time, by the pH:"),
    }[turn]


def scales_text(found: Corrected) -> str:
    """Return what is too little for the scales there are; nothing where all can be weighed."""
    little = [one for one in found.additions if one.too_little_for_g is not None]
    if not little:
        return ""
    names = joined([salt_in_sentence(one.salt) for one in little])
    return _(
        "Under half a step of the finest scale ({step} g), so it cannot be weighed: {products}. Leave it out this "
        "time, or dissolve ten steps or more in a measured bottle of water and pour in the share that holds this much."
    ).format(step=format_short(little[0].too_little_for_g or 0.0), products=names)


def step_text(found: Corrected) -> str:
    """Return why only part of the way is gone; nothing where all is done at once."""
    if found.held_by is None:
        return ""
    return _(
        "This is {percent} % of the way. {nutrient} is far off, and no nutrient is taken further than this at once: "
        "the solution has gone on changing since the sample was taken, and roots are spared a jump. Mix well, have it "
        "analysed again after a day or two, and correct once more."
    ).format(percent=format_short(100.0 * found.part, 2), nutrient=nutrient_word(found.held_by).capitalize())


def meter_text(found: Corrected) -> str:
    """Return what the EC meter will show of this correction, and what it will not."""
    before, after = found.ec_before_ms_per_cm, found.ec_after_ms_per_cm
    if before is None or after is None:
        return _("The EC of this solution cannot be forecast.")
    text = _("EC meter: {before} mS/cm before, {after} after.").format(
        before=format_decimals(before, 2), after=format_decimals(after, 2)
    )
    if not found.unseen:
        return text
    names = joined([nutrient_word(name) for name in found.unseen])
    unseen = _("It does not show what happens to {nutrients}: only another analysis will.").format(nutrients=names)
    return f"{text} {unseen}"


def assumed_text(found: Corrected) -> str:
    """Return what the report does not name; nothing where it names all."""
    if not found.assumed:
        return ""
    names = joined([nutrient_word(name) for name in found.assumed])
    return _("Not in the report, so taken as fresh feed has it: {nutrients}.").format(nutrients=names)


def end_text(found: Corrected) -> str:
    """Return how the reservoir stands after the correction."""
    off = [change for change in found.changes if change.verdict in ("short", "over")]
    if not off:
        return _("After that every target is in its range.")
    names = joined([nutrient_word(change.nutrient) for change in off])
    if found.held_by is not None:
        return _("Still out of range after this step: {nutrients}.").format(nutrients=names)
    return _(
        'Still out of range: {nutrients}. This shelf and this water cannot bring more; "why" on the recipe says what '
        "holds them."
    ).format(nutrients=names)
