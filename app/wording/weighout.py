"""The sentences of the Weigh-out surface: sizing a batch and weighing it."""

from __future__ import annotations

from collections.abc import Sequence

from app.wording.language import gettext as _
from app.wording.language import marked

SIZE_WAYS = {
    "tank": marked("Tank volume"),
    "feed": marked("Finished feed"),
    "days": marked("Days of use"),
    "bag": marked("What a bag allows"),
}


def size_ways() -> list[tuple[str, str]]:
    """Return the ways a batch may be sized, by key."""
    return [(key, _(words)) for key, words in SIZE_WAYS.items()]


def size_name() -> str:
    """Return what the choice of the way is called."""
    return _("Size the batch by")


def size_field(way: str) -> str:
    """Return the name of the field of a way."""
    return {
        "tank": _("Volume of each tank"),
        "feed": _("Finished feed this batch makes"),
        "days": _("Feed used a day"),
        "bag": _("What is at hand of it"),
    }[way]


def days_field() -> str:
    """Return the name of the field of days."""
    return _("Days the batch lasts")


def days_word() -> str:
    """Return what stands behind the number of days."""
    return _("days")


def a_day() -> str:
    """Return what stands behind the volume used a day."""
    return _("L a day, for")


def a_day_in(unit: str) -> str:
    """Return what stands behind the volume used a day in another unit."""
    return _("{unit} a day, for").format(unit=unit)


def bag_choice() -> str:
    """Return what the choice of the product is called."""
    return _("Product the bag holds")


def of_product() -> str:
    """Return what stands between a weight and the product."""
    return _("kg of")


def litres() -> str:
    """Return the unit behind a volume."""
    return _("L")


def size_edit() -> str:
    """Return what the edit of the batch size is called."""
    return _("batch size")


def makes(count: int, volume: str, feed: str) -> str:
    """Return what a batch is."""
    if count == 1:
        return _("One tank of {volume} makes {feed} of feed.").format(volume=volume, feed=feed)
    return _("{count} tanks of {volume} make {feed} of feed.").format(count=count, volume=volume, feed=feed)


def too_long() -> str:
    """Return what is advised against a batch for more than four weeks."""
    return _("A growers' note advises to mix no more than 3 to 4 weeks' use.")


def working() -> str:
    """Return what stands there until the weights are worked out."""
    return _("Working out the weights")


def not_worked_out(reason: str) -> str:
    """Return why there are no weights."""
    return _("The weights could not be worked out: {reason}.").format(reason=reason.rstrip("."))


def nothing_to_weigh() -> str:
    """Return what stands there where the plan has no tanks."""
    return _("There is nothing to weigh for this recipe yet. Put salts on its shelf, or targets in its aim.")


def now_title(number: int, count: int, tank: str) -> str:
    """Return how far the weighing is."""
    return _("{number} of {count}, into the {tank}").format(number=number, count=count, tank=tank)


def done_title(count: int) -> str:
    """Return the title when all is weighed."""
    return _("{count} of {count}").format(count=count)


def all_in() -> str:
    """Return what stands in large letters when all is weighed."""
    return _("All is weighed")


def now_mix() -> str:
    """Return what to do when all is weighed."""
    return _("Finish the steps, fill to the mark, then put the batch into the logbook.")


def add_more(weight: str) -> str:
    """Return a weight to add to what is in already."""
    return _("+ {weight}").format(weight=weight)


def more_of(name: str) -> str:
    """Return that a product is to be added to."""
    return _("{name}, add to what is in").format(name=name)


def on_scale(scale: str) -> str:
    """Return on which scale to weigh."""
    return _("on the {scale}").format(scale=scale)


def in_goes(loads: Sequence[str]) -> str:
    """Return the goes a weight is made up of."""
    return _("in {count} goes: {loads}").format(count=len(loads), loads=_(", then ").join(loads))


def weighed_button(weight: str) -> str:
    """Return what the large button says; the weight is what is noted."""
    return _("Weighed {weight}").format(weight=weight)


def poured_button(volume: str) -> str:
    """Return what the large button says for a volume."""
    return _("Poured {volume}").format(volume=volume)


def over_the_scale(weight: str, capacity: str, goes: int) -> str:
    """Return what is asked back of a weight that is more than its scale can have shown in so many goes."""
    carries = _("{weight} is more than this scale carries, {capacity}.")
    several = _("{weight} is more than this scale carries in {goes} goes of {capacity}.")
    asked = (carries if goes == 1 else several).format(weight=weight, capacity=capacity, goes=goes)
    return " ".join((asked, _("Is it right? Press once more, or type what it was.")))


def or_it_was() -> str:
    """Return what stands before the field for what really went in."""
    return _("or it was")


def it_was_name(product: str) -> str:
    """Return the name of the field for what really went in."""
    return _("What really went in of {product}").format(product=product)


def row_words(product: str, weight: str, done: bool, was: str) -> str:
    """Return a row as a screen reader says it."""
    state = _("weighed") if done else _("to weigh")
    return ", ".join(part for part in (f"{product} {weight}", state, was) if part)


def row_help() -> str:
    """Return what the keys do on a row."""
    return _("Space ticks it off or takes the tick back, Enter brings it up to type what went in")


def was(weight: str) -> str:
    """Return what really went in."""
    return _("was {weight}").format(weight=weight)


def still(weight: str) -> str:
    """Return what is still to be added."""
    return _("still + {weight}").format(weight=weight)


def protection(things: str) -> str:
    """Return what to wear for one product."""
    return _("Wear {things}.").format(things=things)


def hazards(texts: Sequence[str]) -> str:
    """Return the hazards of one product as it is bought."""
    return _("{hazards}; its safety data sheet rules.").format(hazards=_(", ").join(texts))


def start_over() -> tuple[str, str]:
    """Return what clears every tick, and what it does."""
    return _("Start over"), _("Forget every weight noted so far; they can be brought back until the next one")


def bring_back() -> tuple[str, str]:
    """Return what brings the ticks back."""
    return _("Bring the ticks back"), _("Remember the weights that were just forgotten")


def units_name() -> str:
    """Return what the choice of units is called."""
    return _("Weights in")


def units() -> list[tuple[str, str]]:
    """Return the units weights may be told in, by key."""
    return [("auto", _("as the scale shows")), ("metric", _("grams")), ("us", _("pounds and ounces"))]
