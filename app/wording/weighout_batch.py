"""The sentences of a batch as it stands: what changed under it, repairs, error bands, steps, the logbook."""

from __future__ import annotations

from collections.abc import Sequence

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.words import joined

LAWS = {
    "us": marked("United States (table of 2014)"),
    "virginia": marked("Virginia"),
    "eu-2003": marked("EU 2003, kept by the UK"),
    "none": marked("no label slack"),
}


def recipe_changed(changes: Sequence[str]) -> str:
    """Return that the recipe is another than the one weighed for."""
    return _("The recipe has changed since these went in: {changes}.").format(changes="; ".join(changes))


def change_of(product: str, tank: str, then: str, now: str) -> str:
    """Return one weight that changed."""
    return _("{product}, {tank}: {then} then, {now} now").format(product=product, tank=tank, then=then, now=now)


def gone_from(product: str, then: str) -> str:
    """Return a product that is in a tank though the recipe no longer asks for it there."""
    return _("{then} of {product} are in, and the recipe no longer asks for it there").format(
        then=then, product=product
    )


def weighing_edit() -> str:
    """Return what the menu calls a step of weighing that is undone."""
    return _("weighing")


def go_on_button() -> str:
    """Return what accepts the weights that went in for another version."""
    return _("Go on with what is in")


def cannot_go_on() -> str:
    """Return what to do where something is in that the recipe does not know."""
    return _("Take back the change of the recipe, or start over with clean tanks.")


def out_of_range(nutrient: str, feed: str, low: str, high: str) -> str:
    """Return which nutrient is furthest out."""
    if low and high:
        return _("{nutrient} would be {feed} mg/L, wanted {low} to {high}.").format(
            nutrient=nutrient, feed=feed, low=low, high=high
        )
    limit = _("at most {bound}").format(bound=high) if high else _("at least {bound}").format(bound=low)
    return _("{nutrient} would be {feed} mg/L, wanted {limit}.").format(nutrient=nutrient, feed=feed, limit=limit)


def smallest_repair(clauses: Sequence[str]) -> str:
    """Return the repair."""
    return _("The smallest repair: {clauses}.").format(clauses="; ".join(clauses))


def weigh_other(product: str, weight: str, planned: str) -> str:
    """Return a weight to change that is still to be weighed."""
    return _("weigh {weight} of {product} instead of {planned}").format(weight=weight, product=product, planned=planned)


def add_to(product: str, more: str) -> str:
    """Return a weight to add to."""
    return _("add {more} of {product}").format(more=more, product=product)


def fill_to(tank: str, volume: str, planned: str) -> str:
    """Return a tank to fill further."""
    return _("fill the {tank} to {volume} instead of {planned} if the vessel holds it").format(
        tank=tank, volume=volume, planned=planned
    )


def many_weights(count: int) -> str:
    """Return that more weights change than one sentence can tell."""
    return _("change {count} weights, which the list then shows").format(count=count)


def only_nearer() -> str:
    """Return that the repair does not bring everything back."""
    return _("That brings it nearer, not all the way.")


def no_repair() -> str:
    """Return that nothing helps."""
    return _("Nothing that can be added brings it back: this tank has to be mixed anew.")


def repair_button() -> str:
    """Return what accepts the repair."""
    return _("Do that")


def still_in_range() -> str:
    """Return that other weights than planned do no harm."""
    return _("Not what was planned, but every nutrient is still in its range: nothing to change.")


def band_title() -> str:
    """Return the title of the card of what the feed will hold."""
    return _("What the feed will hold")


def law_name() -> str:
    """Return what the choice of the label law is called."""
    return _("Label slack by the law of")


def laws() -> list[tuple[str, str]]:
    """Return the label laws, by key."""
    return [(key, _(words)) for key, words in LAWS.items()]


def band_text(low: str, high: str) -> str:
    """Return the ends of a band."""
    return _("{low} to {high}").format(low=low, high=high)


def band_says(nutrient: str, feed: str, band: str, verdict: str, label: str, weighing: str, volume: str) -> str:
    """Return a row of the card as a screen reader and a tool tip say it."""
    return _(
        "{nutrient}: {feed} mg/L, {verdict}; in 19 batches of 20 it is {band}. Bags at the limit of the law would lack "
        "{label}, weighing makes ± {weighing}, the tanks' volume ± {volume}."
    ).format(nutrient=nutrient, feed=feed, band=band, verdict=verdict, label=label, weighing=weighing, volume=volume)


def band_key() -> str:
    """Return what the bars show."""
    return _("dark bar: where 19 batches of 20 lie; light ground: wanted")


def band_foot(law: str) -> str:
    """Return what the bands rest on."""
    first = _(
        "Every bag may fall short of its label as far as the law lets it; scale (one step) and tank volume (1 %), our "
        "own choice, scatter both ways. Water report and dosing are not in it."
    )
    bare = _(
        "Scale (one step) and tank volume (1 %), our own choice, scatter both ways. Labels are taken as true; water "
        "report and dosing are not in it."
    )
    return bare if law == "none" else first


def no_limit_read(nutrients: Sequence[str]) -> str:
    """Return for which nutrients the law says nothing, as far as it was read."""
    return _("No limit of this law was found for {nutrients}; their labels are taken as true.").format(
        nutrients=joined(list(nutrients))
    )


def ec_line(ec: str, band: str) -> str:
    """Return the EC with the weights as they are."""
    return _("EC {ec} mS/cm ± {band} % at 25 °C").format(ec=ec, band=band)


def ec_unknown() -> str:
    """Return that there is no forecast of the EC."""
    return _("no forecast of the EC")


def steps_title(tank: str) -> str:
    """Return the title of the card of steps."""
    return _("Steps: {tank}").format(tank=tank)


def acid_title() -> str:
    """Return the title of the card of where acid goes."""
    return _("Acid")


def mixed_title() -> str:
    """Return the title of the card of made batches."""
    return _("Batches mixed")


def mixed_button() -> str:
    """Return what puts the batch into the logbook."""
    return _("Mixed: into the logbook")


def mixed_edit(title: str) -> str:
    """Return what the edit of the logbook is called."""
    return _("batch of {title}").format(title=title)


def still_to_weigh(count: int) -> str:
    """Return what is missing before the batch is mixed."""
    if count == 1:
        return _("One weight is still to be ticked off.")
    return _("{count} weights are still to be ticked off.").format(count=count)


def note_field() -> tuple[str, str]:
    """Return the name of the field for a note, and what it hints at."""
    return _("Note on this batch"), _("who mixed it, what was odd")


def no_batches() -> str:
    """Return what stands there before the first batch."""
    return _("None yet. Each batch is kept with its date, its real weights and its recipe.")


def batch_line(date: str, title: str, mark: str) -> str:
    """Return a made batch; it has no mark where it was taken as planned, without its weights."""
    if not mark:
        return _("{date}  {title}").format(date=date, title=title)
    return _("{date}  {title}, mark {mark}").format(date=date, title=title, mark=mark)


def labels_link() -> str:
    """Return what prints the labels of a batch anew."""
    return _("Labels…")


def labels_link_name(date: str, title: str) -> str:
    """Return the name of the link to a batch's labels."""
    return _("Labels of the batch of {date}, {title}").format(date=date, title=title)


def more_batches(count: int) -> str:
    """Return that older batches stand in the logbook."""
    return _("{count} older ones stand in the logbook.").format(count=count)


def put_into_logbook(date: str) -> str:
    """Return that the batch is in the logbook."""
    return _("In the logbook as the batch of {date}. The list below begins anew.").format(date=date)


def not_into_logbook(reason: str) -> str:
    """Return why the logbook could not be written."""
    return _("In the logbook of this window, but its file could not be written: {reason}.").format(
        reason=reason.rstrip(".")
    )


def print_button() -> str:
    """Return what opens the printing."""
    return _("Print or export…")


def date_it() -> str:
    """Return how long a trace bottle keeps, as far as that is known."""
    return _("Date it; how long it keeps was not found: throw it away once it is cloudy or anything lies in it.")
