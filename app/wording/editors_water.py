"""The sentences of the water editor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.editors_aim import pasted_figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_short
from app.wording.words import catalog_words, nutrient_word

if TYPE_CHECKING:
    pass

WATER_NAMES = {
    "HCO3": marked("Bicarbonate"),
    "CO3": marked("Carbonate"),
    "S": marked("Sulfate"),
    "Cl": marked("Chloride"),
    "NO3-N": marked("Nitrate"),
    "NH4-N": marked("Ammonium"),
    "N": marked("Total nitrogen"),
    "P": marked("Phosphate"),
    "Si": marked("Silica"),
    "hardness": marked("Total hardness"),
}


def printed_line(name: str) -> str:
    """Return what a line of a water report is called."""
    return _(WATER_NAMES[name]) if name in WATER_NAMES else figures.capital(nutrient_word(name))


FIELD_LABELS = {"ph": marked("pH"), "ec_ms_per_cm": marked("EC at 25 °C"), "temperature_c": marked("Temperature")}


def field_label(name: str) -> str:
    """Return the label of what a water report states beside its ions."""
    return _(FIELD_LABELS[name])


def water_intro() -> str:
    """Return how a water report is typed."""
    return _(
        "Type the report as printed. A unit may follow any number: 5.4 °dH, 3.2 meq/L, 48 SO4. "
        "Leave out what it does not state."
    )


def water_name() -> str:
    """Return the label of the water's name."""
    return _("Name")


def water_name_hint() -> str:
    """Return what may be typed as the water's name."""
    return _("such as Borehole, 12 March")


def printed_title() -> str:
    """Return the title over the lines of a water report."""
    return _("As printed")


def more_lines() -> str:
    """Return the words that unfold the rarer lines."""
    return _("Phosphate, silica, trace elements, carbonate")


def typical_waters() -> str:
    """Return what a screen reader calls the search among typical waters."""
    return _("Start from a typical water")


def typical_hint() -> str:
    """Return the hint of the search among typical waters."""
    return _("No report yet? Start from a typical water: soft, hard, rain …")


def typical_aside(ec_ms_per_cm: float, hco3_mg_per_l: float | None) -> str:
    """Return a typical water in brief."""
    ec = _("EC {ec}").format(ec=format_decimals(ec_ms_per_cm, 2))
    return ec if hco3_mg_per_l is None else f"{ec}, HCO₃ {format_short(hco3_mg_per_l)}"


def typical_name(name: str) -> str:
    """Return the name of a water that is not a report."""
    return _("{name} (typical, no report)").format(name=catalog_words(name))


WATER_EDITS = {
    "all": marked("water"),
    "name": marked("name of the water"),
    "typical": marked("typical water"),
    "share": marked("share of the second water"),
    "second": marked("second water"),
    "ph": marked("pH of the water"),
    "ec_ms_per_cm": marked("EC of the water"),
    "temperature_c": marked("temperature of the water"),
    "paste": marked("pasted column"),
    "credits": marked("iron and manganese of the water"),
    "hardness": marked("total hardness of the water"),
}


def water_edit(name: str) -> str:
    """Return what the menu calls an edit of the water."""
    if name in WATER_EDITS:
        return _(WATER_EDITS[name])
    return _("{nutrient} in the water").format(nutrient=figures.within(printed_line(name)))


def credits_iron() -> str:
    """Return the words beside the box that counts the water's iron and manganese."""
    return _("Iron and manganese stay dissolved: count them")


def credits_iron_help() -> str:
    """Return why they are not counted unless this is ticked."""
    return _(
        "Well water brings them dissolved; in air they oxidise and drop out as rust and black flakes. "
        "Tick this only for water that is treated so that they reach the roots."
    )


def column_links() -> tuple[str, str]:
    """Return the words that paste a report's column and copy it."""
    return _("Paste a column"), _("Copy the column")


def pasted(count: int, unread: tuple[tuple[str, str], ...]) -> str:
    """Return what was taken from a pasted column and what was not."""
    return pasted_figures(_("{count} figures pasted.").format(count=count) if count else _("No figure found."), unread)


def copied(count: int) -> str:
    """Return that the report is on the clipboard."""
    return _("{count} figures copied, with their names, in mg/L.").format(count=count)


def blend_second() -> str:
    """Return the words that add a second water."""
    return _("Blend in a second water")


def one_water_again() -> str:
    """Return the words that take the second water away."""
    return _("Use the first water alone")


def second_water_title() -> str:
    """Return the title over the second water."""
    return _("Second water")


def second_share() -> str:
    """Return the label of the second water's share."""
    return _("Share of the whole")


CLOSES_PERCENT, NEARLY_PERCENT = 10.0, 20.0
"""Difference of the charges over their mean up to which a report is said to close, and to close nearly; above the first
the plan has a caution."""


def balance_empty() -> str:
    """Return what stands in place of the ion balance of a report without figures."""
    return _("Nothing stated yet: pure water is assumed.")


def balance(cations_meq_per_l: float, anions_meq_per_l: float, gap_percent: float) -> str:
    """Return how well a report's ions balance, in figures and in a word; the gap is that of the plan's caution."""
    figures_ = _("{cations} meq/L of cations, {anions} of anions").format(
        cations=format_decimals(cations_meq_per_l, 2), anions=format_decimals(anions_meq_per_l, 2)
    )
    if gap_percent <= CLOSES_PERCENT:
        return _("✓ The ions balance: {figures}.").format(figures=figures_)
    short = _("anions") if cations_meq_per_l > anions_meq_per_l else _("cations")
    if gap_percent <= NEARLY_PERCENT:
        return _("≈ The ions nearly balance: {figures}.").format(figures=figures_)
    return _("▲ The ions do not balance: {figures}; {short} are missing or misread.").format(
        figures=figures_, short=short
    )
