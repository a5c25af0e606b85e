"""The words of topping up, of the injector check and of the bleed of a closed loop."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import feed, figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_number, format_short
from app.wording.words import catalog_words, joined, nutrient_word

if TYPE_CHECKING:
    from core.bench.meter import Meter
    from core.catalog.closed_loop import ClosedLoop
    from core.plan.running import Bleed, InjectorAnswer
    from core.plan.topping import Option, TopUpTold
    from core.units.formats import System

LABELS = {
    "left_l": marked("Left in it"),
    "left_ec": marked("Its EC"),
    "fill_to_l": marked("To be filled up to"),
    "wanted": marked("The feed's EC"),
    "water_ec": marked("The water's EC"),
    "used_l": marked("Used since filled"),
    "dry": marked("Dry plant per litre"),
    "hose": marked("EC of the hose"),
    "water": marked("EC of the water"),
    "rise": marked("Tanks should add"),
    "crop": marked("Crop"),
    "Na": marked("Sodium coming in"),
    "Cl": marked("Chloride coming in"),
}

OPTIONS = {
    "water": marked("Water alone"),
    "half": marked("Half strength"),
    "full": marked("Full strength"),
    "balance": marked("What plants take"),
}


def label(name: str) -> str:
    """Return what a field is called."""
    return _(LABELS[name])


def left_title() -> str:
    """Return the title of the card of what is left."""
    return _("What is left in it?")


def options_title() -> str:
    """Return the title of the card of ways to fill up."""
    return _("Fill it up with")


def nutrients_title() -> str:
    """Return the title of the table."""
    return _("What is left in mg/L, and what it will be")


def taken_title() -> str:
    """Return the title of what plants take."""
    return _("What plants take")


def not_known() -> str:
    """Return the hint of a field that may stay empty."""
    return _("not known")


def as_reported() -> str:
    """Return the hint of the water's EC."""
    return _("reported")


def option_title(option: Option) -> str:
    """Return what a way to fill up is called."""
    words = _(OPTIONS[option.refill])
    if option.refill != "balance":
        return words
    return _("{words}, {percent} % strength").format(words=words, percent=format_short(100 * option.strength, 2))


def option_amount(option: Option, system: System) -> str:
    """Return how much of the tanks a way to fill up takes."""
    if not any(pour.ml for pour in option.pours):
        return feed.volume(option.water_l, system)
    return feed.pours_text(option.pours, system)


def option_water(option: Option, system: System) -> str:
    """Return how much water goes with it."""
    if not any(pour.ml for pour in option.pours):
        return _("of water")
    return _("and {volume} of water").format(volume=feed.volume(option.water_l, system))


def option_after(option: Option, meter: Meter) -> str:
    """Return the EC after it."""
    return _("then {reading}").format(reading=feed.reading(option.after_ms_per_cm, meter))


def option_acid(option: Option, system: System) -> str:
    """Return the acid that goes with a way to fill up, and when; nothing where the recipe has none."""
    if option.acids_first:
        words = _("First the acid: {amounts} into the {volume} of water, before the tanks.")
        if not any(pour.ml for pour in option.pours):
            words = _("First the acid: {amounts} into the {volume} of water, before it goes in.")
    else:
        words = _("The acid last: about {amounts} into the reservoir after the tanks, a little at a time, by its pH.")
    drops = option.acids_first or option.acids_last
    amounts = [
        _("{amount} of {product}").format(amount=feed.amount(drop, system), product=feed.product_within(drop))
        for drop in drops
    ]
    water = feed.volume(option.water_l, system)
    return words.format(amounts=joined(amounts), volume=water) if drops else ""


def option_acid_care(option: Option) -> str:
    """Return what to mind with that acid in hand."""
    salts = dict.fromkeys(drop.salt for drop in (*option.acids_first, *option.acids_last))
    return feed.acid_care(*salts) if salts else ""


def columns() -> tuple[str, str, str, str, str]:
    """Return the headings of the table."""
    return "", _("by EC"), _("by uptake"), _("after"), _("wanted")


def nutrient(symbol: str) -> str:
    """Return a nutrient in the table."""
    return figures.symbol(symbol)


def mg_per_l(value: float | None) -> str:
    """Return a figure of the table."""
    return "" if value is None else format_number(value, 3)


def unseen(told: TopUpTold) -> str:
    """Return what the EC does not show here."""
    parts = []
    if told.short:
        names = joined([nutrient_word(name) for name in told.short])
        parts.append(_("lower than the EC suggests: {names}").format(names=names))
    if told.piled:
        names = joined([nutrient_word(name) for name in told.piled])
        parts.append(_("piled up: {names}").format(names=names))
    if not parts:
        return ""
    return _("The meter does not show this: {parts}.").format(parts="; ".join(parts))


def blind() -> str:
    """Return what an EC meter can never see."""
    return _(
        "EC counts ions, not which: with nitrogen raised from 25 to 66 mg/L a feed read 1.14 and then 1.28 (Sharkey "
        "and others 2024). What is left is taken as this feed, thinned or thickened, unless the water used is known."
    )


def taken_source() -> str:
    """Return where the figures of what plants take come from."""
    return _(
        "Per cent of dry leaf, and grams of dry matter per litre of water used; to begin with, lettuce of Nemali, "
        "Purdue. Others found 3 to 6 g per litre, twice the potassium, seven times the calcium: correct them by your "
        "own diary."
    )


def tissue_name(symbol: str) -> str:
    """Return what a field of the leaf's content is called."""
    return _("{nutrient} in the dry leaf, %").format(nutrient=nutrient_word(symbol))


def per_litre() -> str:
    """Return the unit of dry matter per litre."""
    return _("g/L")


def fill_first() -> str:
    """Return what is missing for an answer."""
    return _("Say how much is left, what it reads, and up to where it is to be filled.")


def fill_above() -> str:
    """Return why a mark is not taken."""
    return _("It is to be filled up to more than what is left.")


def go_on() -> str:
    """Return the button that leads on to dosing."""
    return _("Filled up: read it and dose")


def injector_title() -> str:
    """Return the title of the injector check."""
    return _("What does the injector give?")


def delivered(answer: InjectorAnswer) -> tuple[str, str]:
    """Return what an injector gives: the large figure, and what stands behind it."""
    if answer.verdict == "nothing":
        return _("0 %"), _("of what it is set to")
    return (
        _("{percent} %").format(percent=format_short(100 * answer.share, 3)),
        _("of what it is set to: 1:{true} instead of 1:{set}").format(
            true=format_short(answer.true_ratio, 3), set=format_short(answer.set_ratio, 3)
        ),
    )


def injector_advice(answer: InjectorAnswer, meter: Meter) -> str:
    """Return what to do about an injector."""
    rise = feed.reading(answer.expected_rise_ms_per_cm, meter)
    return {
        "fine": _("Near enough: expected to add {rise}. Check again before the next crop."),
        "check": _(
            "Somewhat off; it should add {rise}. Read hose and water again, clean filter and check valve, look at "
            "suction hoses for air, then set it after the ratio it really gives."
        ),
        "off": _(
            "Far off; it should add {rise}. First look for air in the suction hose, an empty or wrong tank, a blocked "
            "filter, flow outside what it is built for. Do not correct that by mixing stronger tanks."
        ),
        "nothing": _("The hose is no stronger than the water: nothing is drawn. It should add {rise}."),
    }[answer.verdict].format(rise=rise)


def ratio_source() -> str:
    """Return how a ratio is counted."""
    return _("A ratio of 1:100 is one part in a hundred parts of finished feed.")


def bleed_title() -> str:
    """Return the title of the bleed."""
    return _("How much of a closed loop to let go")


def choose_crop() -> str:
    """Return what stands there while no crop is chosen."""
    return _("choose the crop…")


def crops_known() -> str:
    """Return why nothing is told before a crop is chosen."""
    return _("What may stay in the loop is for the crop to say: choose it, or one that is like it.")


def crop(name: str) -> str:
    """Return a crop as it is chosen."""
    return catalog_words(name)


def bleed_line(one: Bleed) -> tuple[str, str]:
    """Return one ion's bleed: the large figure, and what stands behind it."""
    name = nutrient_word(one.ion)
    if one.share is None:
        return _("no bleed"), _("holds {name}: {inflow} meq/L come in, {most} is the most").format(
            name=name, inflow=format_short(one.inflow_meq_per_l, 2), most=format_short(one.most_meq_per_l, 2)
        )
    big = _("{percent} %").format(percent=format_short(100 * one.share, 2) if one.share else "0")
    return big, _("for {name}: {inflow} meq/L come in, plants take {uptake}, roots stand {most}").format(
        name=name,
        inflow=format_short(one.inflow_meq_per_l, 2),
        uptake=format_short(one.uptake_meq_per_l, 2),
        most=format_short(one.most_meq_per_l, 2),
    )


def bleed_advice(found: tuple[Bleed, ...]) -> str:
    """Return what the bleeds come to."""
    shares = [one.share for one in found]
    if None in shares:
        return _("The water brings more than roots stand: blend in purer water, bleeding alone does not hold it.")
    most = max(share for share in shares if share is not None)
    if most <= 0.0:
        return _("Plants take all that comes in: nothing need be let go for these two.")
    return _(
        "Let {percent} % of what flows in go, or as much by emptying it in part now and then. Where it may be let go "
        "is for local rules to say."
    ).format(percent=format_short(100 * most, 2))


def bleed_source(loop: ClosedLoop) -> str:
    """Return where the figures come from."""
    from core.catalog import sources

    source = sources()[loop.known.source]
    return _("Uptake and limits: {author} {year}, {where}; {note}.").format(
        author=source.author, year=source.year, where=source.where, note=catalog_words(loop.known.note)
    )


def meq_per_l() -> str:
    """Return the unit of what comes in."""
    return _("meq/L")
