"""The sentences of the editors: water, shelf, aim and tanks, and what their fields say of what was typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_short
from app.wording.phrases import dilution_text
from app.wording.words import joined, nutrient_word, tank_title

if TYPE_CHECKING:
    from core.catalog import CropProfile, Known
    from core.recipe.records import ShelfEntry

TITLES = {
    "aim": marked("Aim"),
    "water": marked("Water"),
    "shelf": marked("Shelf"),
    "tanks": marked("Tanks and scales"),
}
MENU = {
    "aim": (marked("&Aim…"), marked("What the crop should get: from a crop, from a spreadsheet or typed")),
    "water": (marked("&Water…"), marked("Type the water report as it is printed")),
    "shelf": (marked("&Shelf…"), marked("The salts, acids and bought blends at hand, with labels and prices")),
    "tanks": (
        marked("&Tanks and scales…"),
        marked("How many tanks, how strong, how cold, and what they are weighed on"),
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
    return sentence.format(place=place, what=what, mend=mend.replace('"entry_id"', _("name")))


def row_not_taken(nutrient: str, what: str, mend: str) -> str:
    """Return why a row of the aim is not in the recipe."""
    return _("{nutrient} {what}; {mend}.").format(
        nutrient=figures.capital(nutrient_word(nutrient)), what=what, mend=mend
    )


def bag(number: int) -> str:
    """Return the name proposed for another bag of a product that stands on the shelf already."""
    return _("bag {number}").format(number=number)


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
    return _("{name} (typical, no report)").format(name=name)


WATER_EDITS = {
    "all": marked("water"),
    "name": marked("name of the water"),
    "typical": marked("typical water"),
    "share": marked("share of the second water"),
    "second": marked("second water"),
    "ph": marked("pH of the water"),
    "ec_ms_per_cm": marked("EC of the water"),
    "temperature_c": marked("temperature of the water"),
}


def water_edit(name: str) -> str:
    """Return what the menu calls an edit of the water."""
    if name in WATER_EDITS:
        return _(WATER_EDITS[name])
    return _("{nutrient} in the water").format(nutrient=figures.within(printed_line(name)))


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


CLOSES_PERCENT, NEARLY_PERCENT = 5.0, 10.0
"""Difference of the charges over their sum up to which a report is said to close, and to close nearly."""


def balance_empty() -> str:
    """Return what stands in place of the ion balance of a report without figures."""
    return _("Nothing stated yet: pure water is assumed.")


def balance(cations_meq_per_l: float, anions_meq_per_l: float) -> str:
    """Return how well a report's ions balance, in figures and in a word."""
    whole = cations_meq_per_l + anions_meq_per_l
    gap = 100.0 * abs(cations_meq_per_l - anions_meq_per_l) / whole if whole > 0 else 0.0
    figures_ = _("{cations} meq/L of cations, {anions} of anions").format(
        cations=format_decimals(cations_meq_per_l, 2), anions=format_decimals(anions_meq_per_l, 2)
    )
    if gap <= CLOSES_PERCENT:
        return _("✓ The ions balance: {figures}.").format(figures=figures_)
    short = _("anions") if cations_meq_per_l > anions_meq_per_l else _("cations")
    if gap <= NEARLY_PERCENT:
        return _("≈ The ions nearly balance: {figures}.").format(figures=figures_)
    return _("▲ The ions do not balance: {figures}; {short} are missing or misread.").format(
        figures=figures_, short=short
    )


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


def label_title() -> str:
    """Return the words over a label's figures."""
    return _("Label as printed, % by mass")


def label_field(name: str) -> str:
    """Return what a screen reader calls a field of the label."""
    return _("Label: {name}, per cent").format(name=name)


def label_total(percent: float | None) -> str:
    """Return what a label sums to."""
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
    return _("2026-06-01, or today")


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


def crop_search() -> str:
    """Return what a screen reader calls the search among crops."""
    return _("Take the targets of a crop")


def crop_hint() -> str:
    """Return the hint of the search among crops."""
    return _("From a crop: tomato, strawberry, lettuce …")


def crop_name(profile: CropProfile) -> str:
    """Return a profile's crop and stage."""
    return figures.capital(f"{profile.crop}, {profile.stage}")


def source_name(key: str) -> str:
    """Return a source as author and year."""
    from core.catalog import sources

    source = sources().get(key)
    if source is None:
        return key
    return source.author if source.year is None else f"{source.author} {source.year}"


def profile_aside(profile: CropProfile) -> str:
    """Return a profile's source and how it is known, in brief."""
    return f"{source_name(profile.known.source)} · {_(HOW_KNOWN_SHORT[profile.known.how_known])}"


KINDS = {
    "recipe": marked("a solution to feed"),
    "uptake": marked("uptake per litre of water: for topping up, not for a first fill"),
    "range": marked("ranges"),
}


def profile_words(profile: CropProfile) -> str:
    """Return a profile in words: crop, source, kind, how it is known."""
    from core.catalog import sources

    source = sources().get(profile.known.source)
    where = "" if source is None else ", ".join(filter(None, (source.title, source.where)))
    head = f"{crop_name(profile)}: {source_name(profile.known.source)}"
    memory = "▲ " if profile.known.how_known == "MEMORY" else ""
    parts = (where, _(KINDS[profile.kind]), f"{memory}{_(HOW_KNOWN[profile.known.how_known])}", profile.known.note)
    return f"{head}. " + "; ".join(filter(None, parts)) + "."


def profile_head(profile: CropProfile) -> str:
    """Return the head of a profile's column: author, stage, how known, a line each."""
    author = source_name(profile.known.source).replace(" et al.", "").split(",")[0]
    mark = "▲ " if profile.known.how_known == "MEMORY" else ""
    lines = (_shortened(author, 14), _shortened(profile.stage, 14), mark + _(HOW_KNOWN_SHORT[profile.known.how_known]))
    return "\n".join(lines)


def _shortened(text: str, letters: int) -> str:
    return text if len(text) <= letters else text[: letters - 1].rstrip() + "…"


def sources_side_by_side() -> str:
    """Return what a screen reader calls the table of sources."""
    return _("Sources side by side, mg/L")


def sources_disagree(name: str) -> str:
    """Return that the sources are far apart."""
    return _("The sources disagree about {name} by more than a quarter.").format(name=figures.symbol(name))


def no_crop() -> str:
    """Return what stands in place of sources while the aim names no crop."""
    return _("No crop chosen: these targets are your own.")


def span(low: float | None, high: float | None, *, rise: bool = False) -> str:
    """Return a range: "1.2–1.6", or one figure, or a dash."""
    ends = list(dict.fromkeys(format_short(end) for end in (low, high) if end is not None))
    text = figures.DASH.join(ends) or figures.DASH
    return f"+{text}" if rise and ends else text


def crop_taken(count: int, kept_traces: tuple[str, ...]) -> str:
    """Return what was taken from a crop's profile and what was kept."""
    taken = _("{count} targets taken.").format(count=count)
    if not kept_traces:
        return taken
    names = joined([nutrient_word(name) for name in kept_traces])
    return f"{taken} " + _("The source does not name {names}: yours are kept.").format(names=names)


def aim_links() -> tuple[str, str, str]:
    """Return the words that paste and copy a column and unfold the weights."""
    return _("Paste a column"), _("Copy the column"), _("Weights and more")


AIM_COLUMNS = {
    "mg_per_l": (marked("target"), marked("What the crop should get, mg/L")),
    "low_mg_per_l": (marked("from"), marked("Lowest wanted value, mg/L; while empty the usual tolerance holds")),
    "high_mg_per_l": (marked("to"), marked("Highest wanted value, mg/L; while empty the usual tolerance holds")),
    "at_most_mg_per_l": (marked("at most"), marked("The feed holds at most this, mg/L, water included")),
    "at_least_mg_per_l": (marked("at least"), marked("The feed holds at least this, mg/L, water included")),
    "tolerance_percent": (marked("± %"), marked("How far the feed may be off the target, instead of a range")),
    "weight": (marked("weight"), marked("How much a miss counts against the others")),
}


def aim_column(name: str) -> str:
    """Return the head of a column of the aim."""
    return _(AIM_COLUMNS[name][0])


def aim_column_help(name: str) -> str:
    """Return what a column of the aim means."""
    return _(AIM_COLUMNS[name][1])


def aim_field(nutrient: str, column: str) -> str:
    """Return what a screen reader calls a field of the aim."""
    return f"{figures.capital(nutrient_word(nutrient))}: {aim_column(column)}"


def number_edit(nutrient: str, column: str) -> str:
    """Return what the menu calls an edit of one of the aim's numbers."""
    if column == "mg_per_l":
        return _("target for {nutrient}").format(nutrient=nutrient_word(nutrient))
    if column in ("low_mg_per_l", "high_mg_per_l", "tolerance_percent"):
        return _("range for {nutrient}").format(nutrient=nutrient_word(nutrient))
    if column == "weight":
        return _("weight of {nutrient}").format(nutrient=nutrient_word(nutrient))
    return _("limit for {nutrient}").format(nutrient=nutrient_word(nutrient))


AIM_EDITS = {
    "crop": marked("targets of a crop"),
    "paste": marked("pasted column"),
    "title": marked("name of the recipe"),
    "urea": marked("use of urea"),
    "ph": marked("wanted pH"),
    "ec_ms_per_cm": marked("wanted EC"),
    "ec_is_rise_over_water": marked("meaning of the wanted EC"),
    "residual_alkalinity_meq_per_l": marked("alkalinity to leave"),
    "ammonium_share_at_most_percent": marked("share of ammonium"),
}


def aim_edit(name: str) -> str:
    """Return what the menu calls an edit of the rest of the aim."""
    return _(AIM_EDITS[name])


def target_first() -> str:
    """Return why a weight or tolerance is not taken."""
    return _("Type the target first.")


def aim_rest_title() -> str:
    """Return the title over what is wanted of the feed as a whole."""
    return _("The feed as a whole")


def target_ec() -> str:
    """Return the label of the wanted EC."""
    return _("EC at 25 °C")


def ec_kind() -> str:
    """Return the label of what the wanted EC means."""
    return _("This EC is")


def ec_kinds() -> list[tuple[str, str]]:
    """Return the two meanings of a wanted EC."""
    return [("reading", _("what the meter reads")), ("rise", _("the rise over the water"))]


AIM_LABELS = {
    "ph": marked("pH"),
    "residual_alkalinity_meq_per_l": marked("Alkalinity to leave"),
    "ammonium_share_at_most_percent": marked("Ammonium at most"),
}


def aim_label(name: str) -> str:
    """Return the label of a field of the rest of the aim."""
    return _(AIM_LABELS[name])


def by_itself() -> str:
    """Return what holds while a field is empty that the plan fills."""
    return _("by plan")


def urea_allowed() -> str:
    """Return the words beside the box that allows urea."""
    return _("Urea may be used")


def recipe_title() -> str:
    """Return the label of the recipe's name."""
    return _("Name of the recipe")


def pasted(count: int, unread: tuple[tuple[str, str], ...]) -> str:
    """Return what was taken from a pasted column and what was not."""
    taken = _("{count} targets pasted.").format(count=count) if count else _("No target found in what was copied.")
    if not unread:
        return taken
    lines = "; ".join(f"“{_shortened(line, 24)}”: {reason.rstrip('.')}" for line, reason in unread[:3])
    return f"{taken} " + _("Not taken: {lines}.").format(lines=lines)


def copied(count: int) -> str:
    """Return that the column is on the clipboard."""
    return _("{count} targets copied, with their names.").format(count=count)


def no_nutrient(name: str) -> str:
    """Return that a name of a pasted column is no nutrient."""
    return _("“{name}” is no nutrient known here").format(name=_shortened(name, 24))


def twice_in_column(nutrient: str) -> str:
    """Return that a pasted column names a nutrient twice."""
    return _("{nutrient} stands there twice").format(nutrient=figures.symbol(nutrient))


TANK_LABELS = {
    "count": marked("Tanks"),
    "ratio": marked("Of each, per litre of feed"),
    "temperature_c": marked("They stand at"),
    "coldest_c": marked("On the coldest day"),
    "tank_volume_l": marked("Each holds"),
}


def tank_label(name: str) -> str:
    """Return the label of a field of the tanks."""
    return _(TANK_LABELS[name])


def tank_count(number: int) -> str:
    """Return a number of tanks."""
    return _("one") if number == 1 else str(number)


def poured(ratio: float) -> str:
    """Return a dilution in words that cannot be read two ways."""
    return figures.capital(dilution_text(ratio)) + "."


def same() -> str:
    """Return what holds while the coldest temperature is empty."""
    return _("the same")


def acid_label() -> str:
    """Return the label of where acid goes."""
    return _("Acid goes into")


def acid_places() -> list[tuple[str, str]]:
    """Return where acid may go."""
    return [
        ("", _("whatever the plan finds right")),
        ("water", _("the water, before anything else")),
        ("tank", _("a tank")),
        ("reservoir", _("the reservoir, last")),
    ]


def pins_title() -> str:
    """Return the words that unfold the pins."""
    return _("Pin a product to a tank")


def pins_intro() -> str:
    """Return what pins are for."""
    return _("The plan places every product so that the tanks stay clear. Pin one only if you must.")


def tank_any() -> str:
    """Return the choice of no pin."""
    return _("as planned")


def tank_named(letter: str, content: str | None) -> str:
    """Return a tank by what it holds, its letter behind."""
    return _("tank {letter}").format(letter=letter) if content is None else f"{tank_title(content)} ({letter})"


TANK_EDITS = {
    "count": marked("number of tanks"),
    "ratio": marked("dilution of the tanks"),
    "temperature_c": marked("temperature of the tanks"),
    "coldest_c": marked("coldest temperature"),
    "tank_volume_l": marked("tank volume"),
    "acid_into": marked("place of the acid"),
    "scales": marked("scales"),
    "pins": marked("pinned product"),
}


def tanks_edit(name: str) -> str:
    """Return what the menu calls an edit of the tanks."""
    return _(TANK_EDITS[name])


def scales_title() -> str:
    """Return the title over the scales."""
    return _("Scales at hand")


def scale_parts() -> tuple[str, str]:
    """Return the labels of a scale's two figures."""
    return _("carries"), _("in steps of")


def scale_field(number: int, part: str) -> str:
    """Return what a screen reader calls a field of a scale."""
    return _("Scale {number} {part}, g").format(number=number, part=part)


def half_a_scale() -> str:
    """Return what a scale still lacks."""
    return _("A scale needs both what it carries and the step it shows.")


def beginning() -> str:
    """Return what stands in an empty recipe."""
    return _(
        "An empty recipe. It needs a water, a shelf and an aim, in any order; the plan appears with the first salt."
    )


def beginning_name() -> str:
    """Return what a screen reader calls the page of an empty recipe."""
    return _("Empty recipe")
