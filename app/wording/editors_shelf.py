"""The sentences of the shelf editor: products, labels, prices, hazards."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.editors import HOW_KNOWN
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_short

if TYPE_CHECKING:
    from core.catalog import Known
    from core.recipe.records import ShelfEntry


def bag(number: int) -> str:
    """Return the name proposed for another bag of a product that stands on the shelf already."""
    return _("bag {number}").format(number=number)


def shelf_intro() -> str:
    """Return how the shelf is filled."""
    return _("Everything you have: the plan takes what it needs. Enter adds, Tab goes on into the product.")


def add_product() -> str:
    """Return what a screen reader calls the search among products."""
    return _("Add a product")


def add_hint() -> str:
    """Return the hint of the search among products."""
    return _("Add a product: a few letters of its name or formula")


def own_product(typed: str) -> str:
    """Return the line that adds a product the catalog does not hold."""
    return _("Own product “{name}”").format(name=typed)


def own_product_aside() -> str:
    """Return what an own product is."""
    return _("by its label")


def shelf_empty() -> str:
    """Return what stands on an empty shelf."""
    return _("The shelf is empty. Type a few letters above, such as “cal”, and press Enter.")


def currency() -> str:
    """Return the label of the currency."""
    return _("Currency of all prices")


def currency_hint() -> str:
    """Return what may be typed as a currency."""
    return _("three letters, such as EUR")


def currency_edit() -> str:
    """Return what the menu calls an edit of the currency."""
    return _("currency")


ENTRY_EDITS = {
    "add": marked("adding {product}"),
    "remove": marked("removing {product}"),
    "label": marked("label of {product}"),
    "pack": marked("pack of {product}"),
    "price": marked("price of {product}"),
    "price_per_kg": marked("price of {product}"),
    "date": marked("date of the price of {product}"),
    "name": marked("name of {product}"),
    "strength_percent": marked("strength of {product}"),
    "at_least_mg_per_l": marked("lower bound of {product}"),
    "at_most_mg_per_l": marked("upper bound of {product}"),
    "exactly_mg_per_l": marked("amount of {product}"),
}


def entry_edit(name: str, product: str) -> str:
    """Return what the menu calls an edit of a product on the shelf."""
    return _(ENTRY_EDITS[name]).format(product=figures.within(product))


def entry_aside(entry: ShelfEntry, currency_code: str) -> str:
    """Return price and bounds of a product in brief."""
    parts = []
    if entry.price_per_kg is not None:
        parts.append(_("{price} {currency}/kg").format(price=format_short(entry.price_per_kg), currency=currency_code))
    if entry.exactly_mg_per_l is not None:
        parts.append(_("fixed at {number} mg/L").format(number=format_short(entry.exactly_mg_per_l)))
    if entry.at_most_mg_per_l is not None:
        parts.append(_("at most {number}").format(number=format_short(entry.at_most_mg_per_l)))
    if entry.at_least_mg_per_l is not None:
        parts.append(_("at least {number}").format(number=format_short(entry.at_least_mg_per_l)))
    return "  ·  ".join(part.replace(" /kg", "/kg") for part in parts)


def own_name() -> str:
    """Return the label of a product's own name."""
    return _("Own name")


def strength() -> str:
    """Return the label of an acid's strength."""
    return _("Strength by mass")


def usually(percent: float) -> str:
    """Return the strength that holds while none is typed."""
    return format_short(percent, 4)


def density(kg_per_l: float) -> str:
    """Return a liquid's density."""
    return _("{density} kg/L at 20 °C").format(density=format_decimals(kg_per_l, 3))


TRADE_WORDS = {
    "calcium-nitrate-tetrahydrate": marked("nitrate of lime, kalksalpeter, nitrate de calcium"),
    "calcium-nitrate-greenhouse": marked("nitrate of lime, kalksalpeter, nitrate de calcium"),
    "potassium-nitrate": marked("NOP, nitrate of potash, saltpetre, kalisalpeter, nitrate de potasse"),
    "potassium-sulfate": marked("SOP, sulfate of potash, sulphate of potash, kaliumsulfat"),
    "potassium-chloride": marked("MOP, muriate of potash, kaliumchlorid"),
    "monopotassium-phosphate": marked("MKP, potassium dihydrogen phosphate, monokaliumphosphat"),
    "dipotassium-phosphate": marked("DKP, dikaliumphosphat"),
    "monoammonium-phosphate": marked("MAP, ammonium dihydrogen phosphate, monoammonphosphat"),
    "diammonium-phosphate": marked("DAP, diammonphosphat"),
    "magnesium-sulfate-heptahydrate": marked("bitter salt, bittersalz, sulfate de magnesie"),
    "magnesium-nitrate-hexahydrate": marked("magnesiumnitrat"),
    "ammonium-nitrate": marked("ammonsalpeter"),
    "ammonium-sulfate": marked("SOA, sulfate of ammonia, ammonsulfat"),
    "calcium-hydroxide": marked("slaked lime, kalkhydrat"),
    "potassium-bicarbonate": marked("kaliumhydrogencarbonat"),
    "potassium-carbonate": marked("potash, pottasche"),
    "potassium-hydroxide": marked("caustic potash, kalilauge"),
    "nitric-acid": marked("salpetersäure, acide nitrique"),
    "phosphoric-acid": marked("phosphorsäure, acide phosphorique"),
    "sulfuric-acid": marked("battery acid, schwefelsäure"),
    "iron-sulfate-heptahydrate": marked("green vitriol, ferrous sulfate, eisensulfat"),
    "copper-sulfate-pentahydrate": marked("blue vitriol, kupfersulfat"),
    "zinc-sulfate-heptahydrate": marked("white vitriol, zinksulfat"),
    "boric-acid": marked("borsäure"),
    "potassium-silicate-solution": marked("water glass, kaliwasserglas"),
}
"""Product -> other words growers call it by; what is typed is looked for in them too, and they are never shown."""


def trade_words(salt_id: str) -> str:
    """Return the other words a product is looked for by."""
    return _(TRADE_WORDS[salt_id]) if salt_id in TRADE_WORDS else ""


def label_title() -> str:
    """Return the words over a label's figures."""
    return _("Label as printed, % by mass")


def label_field(name: str) -> str:
    """Return what a screen reader calls a field of the label."""
    return _("Label: {name}, per cent").format(name=name)


def label_total(percent: float | None, *, own: bool) -> str:
    """Return what a label sums to; an own product has no composition but its label."""
    if percent is None and own:
        return _("No figure typed yet: type what the bag prints, oxides or elements. Nothing else is known of it.")
    if percent is None:
        return _("No figure typed: the catalog's composition is used. Type what the bag prints, oxides or elements.")
    return _("{percent} % stated in all.").format(percent=format_short(percent, 4))


def price_title() -> str:
    """Return the title over a product's price."""
    return _("Price")


def pack() -> str:
    """Return the label of a pack's contents."""
    return _("Pack holds")


def pack_price() -> str:
    """Return the label of what a pack costs."""
    return _("Price of the pack")


def price_per_kg() -> str:
    """Return the label of the price of a kilogram."""
    return _("That is, per kg")


def money(currency_code: str, *, per_kg: bool) -> str:
    """Return the unit of a price."""
    return _("{currency} per kg").format(currency=currency_code).strip() if per_kg else currency_code


def pack_first() -> str:
    """Return why the price of a pack is not taken yet."""
    return _("Type first what the pack holds, or the price per kg below.")


def priced_on() -> str:
    """Return the label of the day of a price."""
    return _("Priced on")


def date_hint() -> str:
    """Return how a day is typed."""
    return _("1.6.2026, or today")


def today() -> str:
    """Return the word that stands for the day it is."""
    return _("today")


def bounds_title() -> str:
    """Return the title over a product's bounds."""
    return _("In each litre of feed")


BOUNDS = {
    "at_least_mg_per_l": marked("At least"),
    "at_most_mg_per_l": marked("At most"),
    "exactly_mg_per_l": marked("Exactly (locks it)"),
}


def bound(name: str) -> str:
    """Return the label of a bound."""
    return _(BOUNDS[name])


def remove_product() -> str:
    """Return the words that take a product off the shelf."""
    return _("Remove from the shelf")


def made_of(formula: str, percent: dict[str, float], known_words: str) -> str:
    """Return what a product is made of and how that is known."""
    contents = ", ".join(f"{figures.symbol(name)} {format_short(value)} %" for name, value in percent.items())
    parts = [part for part in (formula, contents) if part]
    return _("{contents} ({known})").format(contents=": ".join(parts), known=known_words)


def by_label() -> str:
    """Return how the contents of a labelled product are known."""
    return _("by its label")


def known(how: Known | None) -> str:
    """Return how a value of the catalog is known."""
    return _("not stated") if how is None else _(HOW_KNOWN[how.how_known])


def blend_unlabelled() -> str:
    """Return what is missing of a bought blend."""
    return _("Not on the shelf yet: type what its label prints.")


def hazards(signal_word: str, statements: tuple[str, ...], *, recalled: bool) -> str:
    """Return a product's hazards; the sheet of the product in hand rules."""
    what = "; ".join(statements) or _("no hazard class found")
    head = f"{signal_word}: {what}." if signal_word else f"{figures.capital(what)}."
    doubt = _("Partly from memory.") if recalled else ""
    return " ".join(filter(None, ("▲ " + head if signal_word else head, doubt, _("Its safety data sheet rules."))))


def no_hazard_known() -> str:
    """Return what stands in place of hazards that are not known."""
    return _("No hazard statement known here, which does not mean there is none: read its safety data sheet.")
