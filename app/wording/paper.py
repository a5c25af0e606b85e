"""The sentences of the weigh-out sheet, and what every part of the paper shares."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked


def weigh_out_title(title: str) -> str:
    """Return the sheet's title."""
    return _("Weigh-out: {title}").format(title=title)


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


def called_bottle(number: int) -> str:
    """Return the name of a trace bottle."""
    return _("Trace bottle {number}").format(number=number)


def bottle_holds(products: str, count: int) -> str:
    """Return what a pour out of a bottle brings, all at once."""
    if count == 1:
        return _("for {products}").format(products=products)
    return _("once, for {products} together").format(products=products)


def or_bottle(aliquot: str, number: int) -> str:
    """Return that a small weight is better taken from a bottle."""
    return _("better: {aliquot} of trace bottle {number}, once for all that is in it").format(
        aliquot=aliquot, number=number
    )


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
    return _("Use {aliquot} of it for each batch, in place of {products}; it lasts {times} batches.").format(
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
    "water": marked("Before the tanks, into the feed water, not into a tank: {acids}."),
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


def bench_title() -> str:
    """Return the heading over what is otherwise at the bench than in the plan that is printed."""
    return _("This sheet is the plan. The batch being weighed differs:")


def bench_line(product: str, inside: str, planned: str) -> str:
    """Return a weight that is in, where it is not the planned one."""
    return _("{product}: {inside} is in, not {planned}.").format(product=product, inside=inside, planned=planned)


def bench_more(product: str, inside: str, more: str) -> str:
    """Return a weight that is in and is to be added to."""
    return _("{product}: {inside} is in, add {more}.").format(product=product, inside=inside, more=more)


def bench_other(product: str, wanted: str, planned: str) -> str:
    """Return a weight that is to be weighed otherwise than planned."""
    return _("{product}: weigh {wanted}, not {planned}.").format(product=product, wanted=wanted, planned=planned)


def bench_fill(tank: str, volume: str, planned: str) -> str:
    """Return a tank that is to be filled further than planned."""
    return _("{tank}: fill to {volume}, not {planned}.").format(tank=tank, volume=volume, planned=planned)


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
    "strength": marked("strength of {product} as usual, not stated"),
    "no-acid": marked("no acid but what stands here"),
}


def assumption(code: str, **blanks: str) -> str:
    """Return one assumption."""
    return _(ASSUMPTIONS[code]).format(**blanks)


def nothing_to_weigh() -> str:
    """Return what stands where there is nothing to weigh."""
    return _("There is nothing to weigh for this recipe yet.")
