"""Every sentence of the paper: weigh-out sheet, labels, dosing card, recipe summary."""

from __future__ import annotations

from collections.abc import Sequence

from app.wording.language import gettext as _
from app.wording.language import marked

STEP_SENTENCES = {
    "part-fill-warm": marked("Fill the tank to {level} with warm water, about {warm}."),
    "part-fill-cool": marked("Fill the tank to {level} with cool water."),
    "part-fill": marked("Fill the tank to {level} with water."),
    "acid": marked(
        "Add {products} slowly, stirring: acid into water, never water into acid. It grows warm; let it cool."
    ),
    "base": marked("Stir in {products} slowly: eyes and hands covered, little by little."),
    "silicate": marked("Stir in {products}. Nothing else goes into this tank."),
    "sulfates": marked("Stir in {products} until clear."),
    "nitrates": marked("Stir in {products} until clear."),
    "phosphates": marked("Stir in {products} until clear."),
    "others": marked("Stir in {products} until clear."),
    "blends": marked("Stir in {products} until nothing is left on the bottom."),
    "cup": marked("Dissolve in a cup of warm water, one by one, and pour in: {products}."),
    "bottle": marked("Pour in from the trace bottle: {products}."),
    "chelates": marked("Last, {products}."),
    "rinse": marked("Rinse cups and scoops into the tank."),
    "fill": marked("Only now fill to the {volume} mark. Stir, put the lid on."),
    "keep": marked("Stick on the label. Shake or stir before each use."),
    "seal": marked("Close the bags at once, they draw water from the air: {products}."),
    "dose-water": marked("Fill the reservoir nearly full and let it stir."),
    "dose-silicate": marked("First the silicate, on its own: stir until it is spread."),
    "dose-acid": marked("Then the acid, slowly into the moving water: {acids}."),
    "dose-parts": marked("Then equal volumes of {tanks}, stirring in between: four fifths of the dose first."),
    "dose-read": marked("Wait, read the EC, and add the rest in proportion to what it has risen."),
    "dose-ph": marked("Fill up, read again. Only when the EC is right look at the pH, in small steps."),
    "dose-acid-last": marked("Fill up, read again. Only when the EC is right the acid, in small steps: {acids}."),
}
"""Step code -> its sentence."""

REMARKS = {
    "cools": marked("(it cools the water)"),
    "heats": marked("(it heats the water)"),
}

DARK = marked("Keep it dark.")
DARK_ABOVE = marked("Keep it dark, not below {cold}.")
ABOVE = marked("Do not let it stand below {cold}.")


def in_turn(names: Sequence[str]) -> str:
    """Return products in the order they go in: "a, then b, then c"."""
    return _(", then ").join(names)


def step_sentence(code: str, **blanks: str) -> str:
    """Return the sentence of a step with its blanks filled."""
    return _(STEP_SENTENCES[code]).format(**blanks)


def remark(mark: str) -> str:
    """Return a remark on a step, or nothing for a mark that is no remark."""
    return _(REMARKS[mark]) if mark in REMARKS else ""


def keep_sentence(*, dark: bool, cold: str | None) -> str:
    """Return how the tank is to stand, or nothing."""
    if dark:
        return _(DARK) if cold is None else _(DARK_ABOVE).format(cold=cold)
    return "" if cold is None else _(ABOVE).format(cold=cold)


def weigh_out_title(title: str) -> str:
    """Return the sheet's title."""
    return _("Weigh-out: {title}").format(title=title)


def labels_title(title: str) -> str:
    """Return the title of the page of labels."""
    return _("Labels: {title}").format(title=title)


def card_title(title: str) -> str:
    """Return the dosing card's title."""
    return _("Dosing card: {title}").format(title=title)


def summary_title(title: str) -> str:
    """Return the recipe summary's title."""
    return _("Recipe: {title}").format(title=title)


def untitled() -> str:
    """Return what a recipe without a title is called."""
    return _("recipe without a name")


def byline(mark: str, feed: str) -> str:
    """Return the line beneath the sheet's title."""
    return _("Batch of ____________ by ____________ · recipe mark {mark} · makes {feed} of feed").format(
        mark=mark, feed=feed
    )


def page_of(page: int, pages: int) -> str:
    """Return which page this is."""
    return _("{page} of {pages}").format(page=page, pages=pages)


def tank_of(volume: str) -> str:
    """Return how much a tank holds."""
    return _("{volume} tank").format(volume=volume)


def per_litre(ml: str) -> str:
    """Return a dose in metric units."""
    return _("{ml} mL per litre of finished feed").format(ml=ml)


def per_gallon(fl_oz: str) -> str:
    """Return a dose in US units."""
    return _("{fl_oz} fl oz per US gal of finished feed").format(fl_oz=fl_oz)


def also_dose(other: str, ratio: str) -> str:
    """Return the dose in the other system and as a ratio."""
    return _("({other}; 1:{ratio})").format(other=other, ratio=ratio)


def short_per_litre(ml: str) -> str:
    """Return a dose in metric units, short."""
    return _("{ml} mL per litre").format(ml=ml)


def short_per_gallon(fl_oz: str) -> str:
    """Return a dose in US units, short."""
    return _("{fl_oz} fl oz per US gal").format(fl_oz=fl_oz)


def scale_called(capacity: str, step: str) -> str:
    """Return which scale to weigh on."""
    return _("{capacity} scale, {step}").format(capacity=capacity, step=step)


def any_scale() -> str:
    """Return what stands where no scale is known."""
    return _("any scale")


def measured() -> str:
    """Return what stands beside a volume that is poured."""
    return _("measure")


def or_weigh(weight: str) -> str:
    """Return the weight of a volume."""
    return _("or weigh {weight}").format(weight=weight)


def goes(count: int) -> str:
    """Return that a weight takes several goes."""
    return _("in {count} goes").format(count=count)


def go_of(number: int, count: int) -> str:
    """Return which go this is."""
    return _("go {number} of {count}").format(number=number, count=count)


def was() -> str:
    """Return the place for what really went in."""
    return _("was")


def shared(percent: str, others: str) -> str:
    """Return that the rest of a product goes into another tank."""
    return _("{percent} % of it; the rest: {others}").format(percent=percent, others=others)


def from_bottle(number: int) -> str:
    """Return where a volume comes from."""
    return _("trace bottle {number}").format(number=number)


def instead_of(weight: str) -> str:
    """Return the weight a volume from a bottle stands for."""
    return _("holds the {weight} it takes").format(weight=weight)


def or_bottle(aliquot: str, number: int) -> str:
    """Return that a small weight is better taken from a bottle."""
    return _("better: {aliquot} of trace bottle {number}").format(aliquot=aliquot, number=number)


def too_small() -> str:
    """Return that a weight is less than any scale shows."""
    return _("less than the scale shows")


def bottle_title(number: int) -> str:
    """Return the title of a trace bottle's box."""
    return _("Trace bottle {number}, for weights too small to weigh well each time").format(number=number)


def bottle_weigh(weights: str, volume: str) -> str:
    """Return how a trace bottle is made."""
    return _("Weigh once: {weights}. Dissolve, fill to {volume}, label, keep dark.").format(
        weights=weights, volume=volume
    )


def bottle_use(aliquot: str, products: str, times: int) -> str:
    """Return how a trace bottle is used."""
    return _("For each batch {aliquot} of it: enough for {times} batches. It gives {products}.").format(
        aliquot=aliquot, products=products, times=times
    )


def bottle_not_enough() -> str:
    """Return that even the bottle is not exact."""
    return _("Even so a weight stays small for this scale: borrow a finer one.")


def wear(things: str) -> str:
    """Return what to wear for the products of this recipe."""
    return _("Protection for what is in this recipe: {things}. The suppliers' safety data sheets rule.").format(
        things=things
    )


ACID_PLACES = {
    "water": marked("Before the tanks, into the water: {acids}."),
    "reservoir": marked("After the tanks, last, into the reservoir: {acids}."),
    "tank": marked("Acid in the tanks: {acids}."),
}


def acid_title(place: str, acids: str) -> str:
    """Return the heading of the acid box."""
    return _(ACID_PLACES[place]).format(acids=acids)


def acid_dose(acid: str, dose: str, feed: str) -> str:
    """Return an acid's amount."""
    return _("{acid}, {dose} per {feed} of feed").format(acid=acid, dose=dose, feed=feed)


def acid_in_all(dose: str, feed: str) -> str:
    """Return the acid for everything the batch makes."""
    return _("For all {feed} this batch makes: {dose}.").format(dose=dose, feed=feed)


def acid_rules() -> tuple[str, ...]:
    """Return what holds whenever acid is handled."""
    return (
        _("Acid into water, never water into acid; slowly, stirring. Never near bleach."),
        _("Water for rinsing eyes and skin within reach. Good air."),
        _("Its safety data sheet, local rules and licensed practice come first."),
    )


def acid_wear(things: str) -> str:
    """Return what to wear for the acid."""
    return _("Protection: {things}.").format(things=things)


def stop_title() -> str:
    """Return the heading over cautions of the gravest level."""
    return _("STOP. Do not mix this before it is put right.")


def check_title() -> str:
    """Return the heading over cautions of the middle level."""
    return _("Look at this first")


def should_give(ec: str, band: str, ph: str, aired: str) -> str:
    """Return what the meters should show."""
    return _("Should give: EC {ec} ± {band} mS/cm at 25 °C, pH {ph} fresh, {aired} once aired.").format(
        ec=ec, band=band, ph=ph, aired=aired
    )


def gives_unknown() -> str:
    """Return that there is no forecast."""
    return _("No forecast of EC and pH for a feed like this: measure before use.")


def assumes(things: str) -> str:
    """Return what the figures rest on."""
    return _("Assumes: {things}.").format(things=things)


ASSUMPTIONS = {
    "water": marked("water as reported ({name})"),
    "water-unnamed": marked("water as reported"),
    "pure": marked("pure water"),
    "labels": marked("bag labels as entered"),
    "usual": marked("usual contents of {products}"),
    "strength": marked("{product} of {percent} %, not stated"),
    "no-acid": marked("no acid but what stands here"),
}


def assumption(code: str, **blanks: str) -> str:
    """Return one assumption."""
    return _(ASSUMPTIONS[code]).format(**blanks)


def nothing_to_weigh() -> str:
    """Return what stands where there is nothing to weigh."""
    return _("There is nothing to weigh for this recipe yet.")


def label_strength(ratio: str) -> str:
    """Return a concentrate's strength on its label."""
    return _("Concentrate, 1 part in {ratio} of finished feed").format(ratio=ratio)


def label_holds(products: str) -> str:
    """Return what is in the jug."""
    return _("Holds: {products}").format(products=products)


def label_for(title: str, mark: str) -> str:
    """Return which recipe a label belongs to."""
    return _("{title} · recipe mark {mark}").format(title=title, mark=mark)


def label_blanks() -> tuple[str, ...]:
    """Return what is filled in by hand."""
    return (_("Mixed on"), _("Batch"), _("By"))


SIGNALS = {"Danger": marked("DANGER"), "Warning": marked("WARNING"), "": ""}


def signal_word(signal: str) -> str:
    """Return a label's signal word."""
    return _(SIGNALS[signal]) if SIGNALS[signal] else ""


def label_hazards(hazards: str) -> str:
    """Return the hazards at the strength in the jug."""
    return _("{hazards}, at the strength in this jug.").format(hazards=hazards[:1].upper() + hazards[1:])


def residue() -> str:
    """Return the hazard of dried nitrates."""
    return _("Dried splashes on cloth, wood or sacks burn fiercely: rinse them out.")


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
        "steps": _("How to dose"),
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
