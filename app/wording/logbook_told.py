"""What is read out of a diary, in sentences: plots, how far the meter is off, what the crop took up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.logbook import ec_text, number_text, ph_text, when_text
from app.wording.numbers import format_decimals, format_number, format_short
from app.wording.words import joined, nutrient_word

if TYPE_CHECKING:
    from core.logbook.records import Entry
    from core.logbook.uptake import Missing, Taken, Unseen, Uptake

MISSING: dict[str, str] = {
    "level-at-start": marked("the level when the first sample was taken"),
    "level-at-end": marked("the level when the second sample was taken"),
    "no-water-used": marked("water used between the two: the levels tell of none"),
    "filled-anew": marked("one filling: it was filled anew between the two"),
    "batch-not-weighed": marked("the weights of a batch that was poured"),
    "water-unknown": marked("a report of the water that came in"),
}


def plots_title() -> str:
    """Return the title over the plots."""
    return _("EC, pH and level")


def plots_name() -> str:
    """Return what a screen reader calls the plots."""
    return _("Readings over time; Left and Right go from entry to entry")


def plot_label(which: str) -> str:
    """Return what one of the three is called, with its unit."""
    names = {"ec": _("EC, mS/cm"), "ph": _("pH"), "level": _("Level, L")}
    return names[which]


def legend() -> tuple[str, str, str]:
    """Return what the marks mean: read, counted from the filling on, wanted."""
    return _("read"), _("balance since the filling"), _("wanted")


def plots_empty() -> str:
    """Return what stands there without readings."""
    return _("The first readings will be drawn here.")


def point(entry: Entry, foretold: float | None, balance: float | None) -> str:
    """Return one entry of the plots in words."""
    parts = [when_text(entry.at)]
    if entry.ec_ms_per_cm is not None:
        parts.append(_("EC {read}").format(read=ec_text(entry.ec_ms_per_cm)))
    if foretold is not None:
        parts.append(_("foretold {foretold}").format(foretold=ec_text(foretold)))
    if balance is not None:
        parts.append(_("balance {balance}").format(balance=ec_text(balance)))
    if entry.ph is not None:
        parts.append(_("pH {ph}").format(ph=ph_text(entry.ph)))
    if entry.level_l is not None:
        parts.append(_("{level} L").format(level=number_text(entry.level_l)))
    return ", ".join(parts)


def why_title() -> str:
    """Return the title over the search for a cause."""
    return _("Why does it differ?")


def as_foretold() -> str:
    """Return that every reading is where it should be."""
    return _("The readings are where they were foretold, to within what a meter and a crop make of them.")


def nothing_foretold() -> str:
    """Return why nothing is foretold yet."""
    return _("Nothing is foretold yet: it takes a filling with parts of a batch, or a laboratory's report.")


def odd(at: str, off_percent: float) -> str:
    """Return which reading is off, and by how much."""
    said = _("The EC read at {at} is {percent} % under what was foretold.")
    if off_percent > 0.0:
        said = _("The EC read at {at} is {percent} % over what was foretold.")
    return said.format(at=at, percent=format_decimals(abs(off_percent), 0))


def drifting(percent: float) -> str:
    """Return how far the readings have gone from the balance since the filling."""
    size = format_short(abs(percent), 2)
    if percent < 0:
        return _(
            "The EC fell {percent} % below the balance since the filling (the dashes): so much a crop took."
        ).format(percent=size)
    return _("The EC rose {percent} % above the balance since the filling (the dashes).").format(percent=size)


def why_button() -> str:
    """Return the button that starts the search."""
    return _("Search for the cause")


def searching() -> str:
    """Return what stands there while it is searched."""
    return _("Searching…")


def next_test(test: str) -> str:
    """Return the next test for a cause."""
    return _("To tell: {test}").format(test=figures.within(test))


def uptake_title() -> str:
    """Return the title over what the crop took up."""
    return _("What the crop took up")


def uptake_between(first: str, last: str) -> str:
    """Return which two analyses a balance is of."""
    return _("{first} to {last}").format(first=first[:10], last=last[:10])


def uptake_empty() -> str:
    """Return what is needed for a balance."""
    return _("Two laboratory reports of one filling and the level at both times tell what was taken up.")


def uptake_missing(missing: tuple[Missing, ...]) -> str:
    """Return what a balance lacks."""
    return _("No balance: what is missing is {things}.").format(things=joined([_(MISSING[code]) for code in missing]))


def uptake_spent(told: Uptake) -> str:
    """Return the water of a balance."""
    words = _("{used} L used in {days} days, {brought} L came in").format(
        used=format_short(told.used_l), days=format_short(told.days, 2), brought=format_short(told.brought_l)
    )
    if told.drained_l:
        words = _("{words}, {drained} L let out").format(words=words, drained=format_short(told.drained_l))
    return f"{words}."


def uptake_columns() -> tuple[str, str, str]:
    """Return the headings of a balance: taken per litre used, per day, brought per litre."""
    return _("taken, mg/L used"), _("mg a day"), _("brought, mg/L")


def uptake_row(one: Taken) -> tuple[str, str, str, str]:
    """Return one nutrient of a balance."""
    brought = figures.DASH if one.brought_mg_per_l is None else format_number(one.brought_mg_per_l)
    return figures.symbol(one.nutrient), format_number(one.mg_per_l_used), format_number(one.mg_per_day), brought


def unseen(one: Unseen) -> str:
    """Return a nutrient that moves otherwise than the EC."""
    name = figures.capital(nutrient_word(one.nutrient))
    change, ec = (format_short(abs(value), 2) for value in (one.change_percent, one.ec_change_percent))
    moves = _("fell {percent} %") if one.change_percent < 0 else _("rose {percent} %")
    shown = _("fell {percent} %") if one.ec_change_percent < 0 else _("rose {percent} %")
    if one.change_percent < one.ec_change_percent <= 0:
        return _("{nutrient} is falling faster than EC shows: it {moved}, the EC {shown}.").format(
            nutrient=name, moved=moves.format(percent=change), shown=shown.format(percent=ec)
        )
    return _("The EC does not show it: {nutrient} {moved}, the EC {shown}.").format(
        nutrient=nutrient_word(one.nutrient), moved=moves.format(percent=change), shown=shown.format(percent=ec)
    )


def water_silent(names: tuple[str, ...]) -> str:
    """Return which nutrients the water's report leaves out."""
    return _("The water's report says nothing of {names}; counted as none.").format(
        names=joined([figures.symbol(name) for name in names])
    )


def working() -> str:
    """Return what stands there until the diary is worked out."""
    return _("Working it out…")


def not_worked_out(reason: str) -> str:
    """Return why the diary could not be worked out."""
    return _("It could not be worked out: {reason}.").format(reason=reason.rstrip("."))
