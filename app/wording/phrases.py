"""Short sentences around numbers that the command line, the paper and the window all need."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.figures import name_parts, strength
from app.wording.language import gettext as _
from app.wording.numbers import decimals_of_step, format_decimals, format_number, format_short
from app.wording.words import joined, salt_name, solid_word, verdict_word

if TYPE_CHECKING:
    from core.plan.records import Cost, Feed, Tank, TankContent
    from core.recipe.records import ShelfEntry


def product_name(salt_id: str, entry_id: str, strength_percent: float | None = None) -> str:
    """Return a product's name, its strength, and the shelf's own name where it has one: "Potassium nitrate (bag 2)"."""
    name = salt_name(salt_id)
    if strength_percent is not None:
        name = _("{product} {percent} %").format(product=name, percent=format_short(strength_percent))
    return name if entry_id == salt_id else _("{product} ({entry})").format(product=name, entry=entry_id)


def product_parts(entry: ShelfEntry) -> tuple[str, str]:
    """Return a shelf entry's name in two: what it is, and its grade, hydrate or strength."""
    name, kind = name_parts(salt_name(entry.salt))
    return name, kind if entry.strength_percent is None else strength(entry.strength_percent)


def weight_text(content: TankContent) -> str:
    """Return what to weigh, with as many decimals as its scale shows: "168.4 g"; without a scale four digits."""
    grams = content.grams_to_weigh
    if content.scale is None:
        return _("{number} g").format(number=format_number(grams, 4))
    return _("{number} g").format(number=format_decimals(grams, decimals_of_step(content.scale.readability_g)))


def dilution_text(ratio: float) -> str:
    """Return how a concentrate is used, in words that cannot be read two ways."""
    from core.bench.quantities import fl_oz_per_us_gallon_of_feed, ml_per_l_of_feed

    return _("{ml} mL per litre of finished feed ({fl_oz} fl oz per US gallon, 1:{ratio})").format(
        ml=format_short(ml_per_l_of_feed(ratio)),
        fl_oz=format_short(fl_oz_per_us_gallon_of_feed(ratio)),
        ratio=f"{ratio:g}",
    )


def tank_verdict_text(tank: Tank) -> str:
    """Return whether a tank stays clear, warm and cold, and how strong it could be."""
    text = verdict_word(tank.verdict)
    if tank.cold_verdict != tank.verdict:
        text = _("{warm}; at its coldest: {cold}").format(warm=text, cold=verdict_word(tank.cold_verdict))
    if tank.settling:
        text = _("{verdict} ({solids})").format(verdict=text, solids=joined([solid_word(s) for s in tank.settling]))
    if tank.injector_step is None:
        return text
    return _("{verdict}; clear up to 1:{ratio}").format(verdict=text, ratio=f"{tank.injector_step:g}")


def ec_text(feed: Feed) -> str:
    """Return the feed's conductivity at 25 °C with its band, and the water's own."""
    if feed.ec_ms_per_cm is None:
        return _("EC: no forecast for a feed like this")
    text = _("EC {ec} mS/cm ± {band} % at 25 °C").format(
        ec=format_decimals(feed.ec_ms_per_cm, 2), band=format_short(feed.ec_band_percent, 2)
    )
    if feed.water_ec_ms_per_cm is None:
        return text
    water = format_decimals(feed.water_ec_ms_per_cm, 2)
    return _("{feed} (the water alone {water})").format(feed=text, water=water)


def ph_text(feed: Feed) -> str:
    """Return the feed's pH fresh and aired, and the alkalinity it keeps."""
    alkalinity = format_decimals(feed.alkalinity_meq_per_l, 2)
    if feed.ph is None or feed.ph_aired is None:
        return _("pH: no forecast for a feed like this; alkalinity {alkalinity} meq/L").format(alkalinity=alkalinity)
    return _("pH {fresh} freshly mixed, {aired} once aired, at {at_c} °C; alkalinity {alkalinity} meq/L").format(
        fresh=format_decimals(feed.ph, 1),
        aired=format_decimals(feed.ph_aired, 1),
        at_c=format_short(feed.ph_temperature_c),
        alkalinity=alkalinity,
    )


def cost_text(cost: Cost) -> str:
    """Return what 1000 L of feed cost, and what that leaves out."""
    if cost.per_1000_l is None:
        return _("not known: nothing on the shelf has a price")
    amount = _("{currency} {number} per 1000 L of feed").format(
        currency=cost.currency, number=format_decimals(cost.per_1000_l, 2)
    )
    if not cost.missing:
        return amount.strip()
    return _("{amount}, without {missing}").format(
        amount=amount.strip(), missing=joined([salt_name(key) for key in cost.missing])
    )
