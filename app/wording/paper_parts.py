"""The sentences of labels, dosing card and recipe summary."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked


def labels_title(title: str) -> str:
    """Return the title of the page of labels."""
    return _("Labels: {title}").format(title=title)


def card_title(title: str) -> str:
    """Return the dosing card's title."""
    return _("Dosing card: {title}").format(title=title)


def summary_title(title: str) -> str:
    """Return the recipe summary's title."""
    return _("Recipe: {title}").format(title=title)


def label_holds(products: str) -> str:
    """Return what is in the jug."""
    return _("Holds: {products}").format(products=products)


def label_for(title: str, mark: str) -> str:
    """Return which recipe a label belongs to."""
    return _("{title} · recipe mark {mark}").format(title=title, mark=mark)


def label_for_batch(title: str, mark: str, date: str, batch_id: str) -> str:
    """Return which recipe and which batch a label belongs to."""
    return _("{title} · recipe mark {mark} · mixed on {date}, batch {batch}").format(
        title=title, mark=mark, date=date, batch=batch_id
    )


def label_blanks(*, made: bool = False) -> tuple[str, ...]:
    """Return what is filled in by hand; `made` where date and batch are printed."""
    return (_("By"),) if made else (_("Mixed on"), _("Batch"), _("By"))


SIGNALS = {"Danger": marked("DANGER"), "Warning": marked("WARNING"), "": ""}


def signal_word(signal: str) -> str:
    """Return a label's signal word."""
    return _(SIGNALS[signal]) if SIGNALS[signal] else ""


def label_hazards(hazards: str) -> str:
    """Return the hazards at the strength in the jug."""
    return _("{hazards}, at the strength in this jug.").format(hazards=hazards[:1].upper() + hazards[1:])


def residue() -> str:
    """Return the hazard of dried nitrates."""
    return _("Dried splashes on cloth, wood or sacks can burn fiercely: rinse them out.")


def not_judged(products: str) -> str:
    """Return that a product's hazards are not known here."""
    return _("Not judged: {products}. See the supplier's safety data sheet.").format(products=products)


def no_hazard_known() -> str:
    """Return that nothing is known against this jug at its strength."""
    return _("No hazard class is known at this strength.")


def label_care(parts_apart: bool) -> tuple[str, ...]:
    """Return what every label says."""
    apart = (_("Never pour it undiluted into another jug."),) if parts_apart else ()
    return (
        _("Shake before use."),
        *apart,
        _("Not for drinking; keep from children, food and animals. Suppliers' safety data sheets rule."),
    )


def card_intro(water: str, tanks: str) -> str:
    """Return what a dosing card holds for."""
    return _("For {water} and these tanks: {tanks}. The same volume of each.").format(water=water, tanks=tanks)


def this_water(name: str) -> str:
    """Return the water's name in a sentence."""
    return _("this water ({name})").format(name=name) if name else _("this water")


def card_head_dose(us: bool) -> tuple[str, str]:
    """Return the headings over doses, the leading unit first."""
    metric, gallons = _("mL of each per litre"), _("fl oz of each per US gal")
    return (gallons, metric) if us else (metric, gallons)


def card_head_readings() -> tuple[str, ...]:
    """Return the headings over what a meter shows."""
    return (_("EC mS/cm"), _("CF"), _("500 scale"), _("700 scale"))


def card_band(percent: str) -> str:
    """Return how sure the card is."""
    return _(
        "At 25 °C, ± {percent} %. The row in bold makes the recipe as planned. Let your own readings correct the card."
    ).format(percent=percent)


def card_acid(place: str) -> str:
    """Return whether the acid is counted."""
    if place == "water":
        return _("The acid is in the water already, in full.")
    return _("Before the acid, which goes in last and moves the EC a little.")


def curve_axes(us: bool) -> tuple[str, str]:
    """Return what stands along the curve."""
    return (_("fl oz of each per US gal") if us else _("mL of each per litre"), _("EC mS/cm"))


def planned_point(ec: str) -> str:
    """Return the mark of the planned feed on the curve."""
    return _("planned: {ec}").format(ec=ec)


def no_curve() -> str:
    """Return why a dosing card has no table."""
    return _("No forecast of the EC for a feed like this: make your own table from readings.")


def date_by() -> str:
    """Return the line for date and name."""
    return _("Date ____________ by ____________")


def headings() -> dict[str, str]:
    """Return the headings of the recipe summary."""
    return {
        "feed": _("What the feed holds"),
        "amounts": _("What goes in"),
        "water": _("The water"),
        "forecast": _("Forecast"),
        "tanks": _("The tanks"),
        "cautions": _("Cautions"),
        "assumptions": _("What this rests on"),
        "working": _("Working, in mg per litre of feed"),
        "sources": _("Sources"),
    }


def feed_head() -> tuple[str, ...]:
    """Return the heading of the nutrients' table."""
    return (_("mg/L"), _("wanted"), _("range"), _("water"), _("feed"), "")


def amounts_head() -> tuple[str, ...]:
    """Return the heading of the amounts' table."""
    return (_("product"), _("mg per litre"), _("per 1000 L"), _("goes into"))


def water_line(contents: str, ph: str, ec: str) -> str:
    """Return a water report in one line."""
    return _("{contents} mg/L; pH {ph}; EC {ec} mS/cm").format(contents=contents, ph=ph, ec=ec)


def cost_line(cost: str) -> str:
    """Return what the feed costs."""
    return _("Cost: {cost}").format(cost=cost)


def not_reported() -> str:
    """Return what stands for a figure the report leaves out."""
    return _("not reported")


def blended(name: str, percent: str) -> str:
    """Return that a second water is blended in."""
    return _("with {percent} % of {name}").format(name=name, percent=percent)


def known_how(how: str) -> str:
    """Return how a value is known."""
    words = {
        "READ": _("read"),
        "READ-2": _("read as quoted by others"),
        "DERIVED": _("worked out"),
        "MEMORY": _("recalled, source not seen: check it"),
        "INVENTED": _("made up"),
    }
    return words.get(how, how)


def source_of(source: str, what: str, products: str, how: str) -> str:
    """Return what a source gave for which products."""
    return _("{source}: {what} of {products} ({how})").format(source=source, what=what, products=products, how=how)


def model_sources() -> tuple[str, ...]:
    """Return where the forecasts of EC, pH and settling come from."""
    return (
        _(
            "EC: Debye, Hückel and Onsager as in Robinson & Stokes 1959, Electrolyte Solutions, chapter 7, with the "
            "limiting conductivities of the CRC Handbook of Chemistry and Physics"
        ),
        _("pH and ion pairs: constants of the U.S. Geological Survey's phreeqc.dat 3.7.3"),
        _(
            "Tanks that settle: Pitzer's equations with the parameters of May et al. 2011, J. Chem. Eng. Data 56, "
            "5066, and of the U.S. Geological Survey's pitzer.dat"
        ),
    )


def working_line(nutrient: str, parts: str, total: str) -> str:
    """Return the working of one nutrient."""
    return _("{nutrient} = {parts} = {total} mg/L").format(nutrient=nutrient, parts=parts, total=total)


def working_water(mg: str) -> str:
    """Return what the water brings."""
    return _("{mg} (the water)").format(mg=mg)


def working_product(mg: str, amount: str, percent: str, product: str) -> str:
    """Return what a product brings: amount times content."""
    return _("{mg} ({product}: {amount} × {percent} %)").format(mg=mg, amount=amount, percent=percent, product=product)


def recipe_line(mark: str, feed: str) -> str:
    """Return the line beneath the summary's title."""
    return _("Recipe mark {mark} · one batch makes {feed} of feed").format(mark=mark, feed=feed)


def label_entered(product: str, contents: str) -> str:
    """Return that a bag's label was typed in."""
    return _("{product}, contents: label as entered ({contents})").format(product=product, contents=contents)


WHAT = {
    "composition": marked("composition"),
    "label_percent": marked("usual label"),
    "default_strength_percent": marked("usual strength"),
    "solute_percent": marked("strength"),
    "density_kg_per_l": marked("density"),
    "hazards": marked("hazards"),
}


def what_known(field: str) -> str:
    """Return what a source is for, or nothing for what the paper does not show."""
    return _(WHAT[field]) if field in WHAT else ""


def end_note() -> str:
    """Return the note at the end of the summary."""
    return _(
        "Acids and oxidisers: suppliers' safety data sheets, local codes and licensed practice come before anything "
        "printed here."
    )
