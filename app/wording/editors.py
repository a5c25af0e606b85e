"""The sentences all editors share: titles, units, what was understood and what was not taken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.refusals import what_is_wrong

if TYPE_CHECKING:
    pass

TITLES = {
    "aim": marked("Aim"),
    "water": marked("Water"),
    "shelf": marked("Shelf"),
    "tanks": marked("Tanks and scales"),
    "why": marked("Why these amounts?"),
    "adapt": marked("Adapt this recipe"),
}

MENU = {
    "aim": (marked("&Aim…"), marked("What the crop should get: from a crop, from a spreadsheet or typed")),
    "water": (marked("&Water…"), marked("Type the water report as it is printed")),
    "shelf": (marked("&Shelf…"), marked("The salts, acids and bought blends at hand, with labels and prices")),
    "tanks": (
        marked("&Tanks and scales…"),
        marked("How many tanks, how strong, how cold, and what they are weighed on"),
    ),
    "why": (
        marked("Wh&y these amounts…"),
        marked("What holds the amounts, what would help, the arithmetic behind any figure"),
    ),
}

LINKS = {
    "aim": marked("From a crop…"),
    "shelf": marked("Shelf…"),
    "tanks": marked("Set up…"),
    "water": marked("Water…"),
}

HOW_KNOWN = {
    "READ": marked("read in the source"),
    "READ-2": marked("read as another quotes it"),
    "DERIVED": marked("worked out from figures read"),
    "MEMORY": marked("from memory, source not seen"),
    "INVENTED": marked("made up as a typical case"),
}

HOW_KNOWN_SHORT = {
    "READ": marked("read"),
    "READ-2": marked("quoted"),
    "DERIVED": marked("worked out"),
    "MEMORY": marked("from memory"),
    "INVENTED": marked("typical"),
}

PLACES = {
    "label_percent": marked("The label"),
    "strength_percent": marked("The strength"),
    "priced_on": marked("The date of the price"),
    "pack_kg": marked("The pack"),
    "price_per_kg": marked("The price"),
    "entry_id": marked("The name"),
    "salt": marked("The product"),
    "currency": marked("The currency"),
    "mg_per_l": marked("The figure"),
    "at_least_mg_per_l": marked("The lower bound"),
    "at_most_mg_per_l": marked("The upper bound"),
    "exactly_mg_per_l": marked("The fixed amount"),
    "ph": marked("The pH"),
    "ec_ms_per_cm": marked("The EC"),
    "temperature_c": marked("The temperature"),
    "coldest_c": marked("The coldest temperature"),
    "ratio": marked("The dilution"),
    "tank_volume_l": marked("The tank"),
    "second_water_share_percent": marked("The share"),
    "residual_alkalinity_meq_per_l": marked("The alkalinity"),
    "ammonium_share_at_most_percent": marked("The share of ammonium"),
    "scales": marked("The scale"),
    "shelf": marked("The shelf"),
    "targets": marked("This target"),
    "limits": marked("This limit"),
}


def title(name: str) -> str:
    """Return an editor's title."""
    return _(TITLES[name])


def menu(name: str) -> tuple[str, str]:
    """Return the text and status tip of the command that opens an editor."""
    text, tip = MENU[name]
    return _(text), _(tip)


def brief_crop_link() -> str:
    """Return the link to the crops where there is hardly any room for it."""
    return _("Crop…")


def link(name: str) -> str:
    """Return the words on a card that lead to an editor."""
    return _(LINKS[name])


def close_sheet(sheet: str) -> str:
    """Return what a screen reader calls the button that closes an editor."""
    return _("Close {sheet}").format(sheet=sheet)


def equals(kept: str, typed: str) -> str:
    """Return what was understood: "= 3572 g", or with the words it was understood by."""
    return _("{typed} = {kept}").format(typed=typed, kept=kept) if typed else _("= {kept}").format(kept=kept)


def kept(number: str, unit_label: str, of: str | None) -> str:
    """Return a quantity in the unit it is kept in: "16 mg/L S", "1:100"."""
    if unit_label == "x":
        return f"1:{number}"
    words = [number, unit_label]
    if of is not None and unit_label == "mg/L":
        words.append(figures.symbol(of))
    return " ".join(filter(None, words))


def unit(label: str) -> str:
    """Return a unit as a form prints it: "mg/L as SO4" -> "mg/L SO₄", "x" -> "L per L"."""
    if label == "x":
        return _("1 : …")
    plain, _as, basis = label.partition(" as ")
    return f"{plain} {figures.symbol(basis)}" if basis else label


def unit_of(field: str) -> str:
    """Return what a screen reader calls the choice of a field's unit."""
    return _("Unit of {field}").format(field=field)


def not_taken(path: tuple[str | int, ...], what: str, mend: str) -> str:
    """Return why something typed is not in the recipe: where, what is wrong, how to mend it."""
    names = [str(step) for step in path if isinstance(step, str)]
    known = next((name for name in reversed(names) if name in PLACES), "")
    place = _(PLACES[known]) if known else (figures.symbol(names[-1]) if names else _("This"))
    if len(path) == 2 and path[0] == "shelf":
        place = _("This product")
    sentence = _("{place} {what}; {mend}.") if mend else _("{place} {what}.")
    return sentence.format(
        place=place, what=what_is_wrong(what), mend=what_is_wrong(mend).replace('"entry_id"', _("name"))
    )


def beginning() -> str:
    """Return what stands in an empty recipe."""
    return _(
        "An empty recipe. It needs a water, a shelf and an aim, in any order; the plan appears with the first salt."
    )


def beginning_name() -> str:
    """Return what a screen reader calls the page of an empty recipe."""
    return _("Empty recipe")
