"""The sentences of the surfaces: cards, fields, cautions and what screen readers say of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_short
from app.wording.refusals import what_is_wrong
from app.wording.words import nutrient_word, verdict_word

if TYPE_CHECKING:
    from core.plan.records import IonShare

SURFACES = {
    "design": marked("Design"),
    "tanks": marked("Tanks"),
    "weighout": marked("Weigh-out"),
    "feed": marked("Feed"),
    "compare": marked("Compare"),
    "logbook": marked("Logbook"),
}

SURFACE_TIPS = {
    "design": marked("What the crop should get and which salts bring it"),
    "tanks": marked("What each concentrate holds and whether it stays clear"),
    "weighout": marked("What to weigh for one batch"),
    "feed": marked("How much to pour for the EC you want"),
    "compare": marked("Variants of a recipe side by side"),
    "logbook": marked("Readings of each reservoir over time"),
}

BALANCED_PERCENT, UNBALANCED_PERCENT = 0.1, 5.0
"""Below the one a difference of the charges is not worth a figure, above the other something was left out."""

SHORT_NUTRIENTS = {"NH4-N": marked("ammonium"), "NO3-N": marked("nitrate"), "urea-N": marked("urea")}


def surface(name: str) -> str:
    """Return what a surface is called."""
    return _(SURFACES[name])


def surface_tip(name: str) -> str:
    """Return what a surface is for."""
    return _(SURFACE_TIPS[name])


def row_word(nutrient: str) -> str:
    """Return the short word beside a nutrient's symbol; the symbol itself says which form of nitrogen it is."""
    return _(SHORT_NUTRIENTS[nutrient]) if nutrient in SHORT_NUTRIENTS else nutrient_word(nutrient)


def aim_title() -> str:
    """Return the aim card's title."""
    return _("Aim")


def aim_columns() -> tuple[str, str, str, str]:
    """Return the aim card's column headings: target, the legend's water and wanted range, feed."""
    return _("target"), _("water"), _("wanted"), _("feed, mg/L")


def target_name(nutrient: str) -> str:
    """Return what a screen reader calls a target field."""
    return _("Target for {nutrient}, mg/L").format(nutrient=nutrient_word(nutrient))


def target_edit(nutrient: str) -> str:
    """Return what the menu calls an edit of a target."""
    return _("target for {nutrient}").format(nutrient=nutrient_word(nutrient))


def range_text(water: float, feed: float, low: float | None, high: float | None, verdict: str) -> str:
    """Return in words what a range bar draws."""
    parts = [_("water brings {water} mg/L").format(water=format_short(water))]
    if low is not None and high is not None and low > 0:
        parts.append(_("wanted {low} to {high}").format(low=format_short(low), high=format_short(high)))
    elif high is not None:
        parts.append(_("at most {high}").format(high=format_short(high)))
    elif low is not None:
        parts.append(_("at least {low}").format(low=format_short(low)))
    parts.append(_("feed reaches {feed}, {verdict}").format(feed=format_short(feed), verdict=verdict_word(verdict)))
    return figures.capital(", ".join(parts))


def salts_title() -> str:
    """Return the salts card's title."""
    return _("Salts")


def salts_columns() -> tuple[str, str, str, str]:
    """Return the salts card's column headings."""
    return _("for one tank"), _("feed, mg/L"), _("goes into"), _("brings, mg/L")


def into_water() -> str:
    """Return where acid goes that is stirred into the water before the tanks."""
    return _("water, first")


def into_reservoir() -> str:
    """Return where acid goes that is added to the mixed feed."""
    return _("reservoir, last")


def takes_alkalinity(meq_per_l: float) -> str:
    """Return how much alkalinity an acid uses up."""
    return _("takes {number} meq/L").format(number=format_short(abs(meq_per_l), 2))


def amount_name(product: str) -> str:
    """Return what a screen reader calls an amount field."""
    return _("Amount of {product}, mg per litre of feed").format(product=product)


def amount_edit(product: str) -> str:
    """Return what the menu calls fixing or releasing an amount."""
    return _("amount of {product}").format(product=product)


def amount_help(fixed: bool, solved: str) -> str:
    """Return what an amount field says of itself."""
    if fixed:
        return _("Fixed by you. Clear the field and the program chooses again.")
    return _(
        "Chosen by the program: {solved} mg/L. Type an amount to fix it: mg/L, or grams for one tank, such as 500 g."
    ).format(solved=solved)


def together(amount: str) -> str:
    """Return what several tanks take together, very briefly."""
    return _("Σ {amount}").format(amount=amount)


def salt_row_text(product: str, weight: str, place: str, brings: str) -> str:
    """Return in words what a row of the salts card shows."""
    return _("{product}: {weight}, goes into {place}, brings {brings}").format(
        product=product, weight=weight, place=place, brings=brings
    )


def unused_line(count: int) -> str:
    """Return how many products on the shelf the plan does without."""
    if count == 1:
        return _("1 on the shelf is not needed")
    return _("{count} on the shelf are not needed").format(count=count)


def not_used() -> str:
    """Return what stands in place of a weight for a product the plan does without."""
    return _("not needed")


def ions_title() -> str:
    """Return the ions card's title."""
    return _("Ions")


def ions_unit() -> str:
    """Return the unit of the ions card."""
    return _("meq/L")


def ion_kinds() -> tuple[str, str]:
    """Return what the two bars are called."""
    return _("cations"), _("anions")


def ion_text(ion: IonShare) -> str:
    """Return one ion with its charge per litre: "SO₄ 2.7 meq/L"."""
    return _("{ion} {number} meq/L").format(ion=figures.symbol(ion.ion), number=format_short(ion.meq_per_l))


def ions_sentence(charge_error_percent: float, alkalinity_meq_per_l: float) -> str:
    """Return how well the charges balance and what alkalinity is left."""
    gap = format_short(abs(charge_error_percent), 2)
    if abs(charge_error_percent) < BALANCED_PERCENT:
        balance = _("Both sides balance.")
    elif abs(charge_error_percent) < UNBALANCED_PERCENT:
        balance = _("Both sides balance to {gap} %.").format(gap=gap)
    else:
        balance = _("The sides are {gap} % apart: the water report leaves something out.").format(gap=gap)
    left = _("Alkalinity left: {number}\u00a0meq/\u2060L.").format(number=format_short(alkalinity_meq_per_l, 2))
    return f"{balance} {left}"


def tanks_title() -> str:
    """Return the tanks card's title."""
    return _("Tanks")


def coldest(coldest_c: float) -> str:
    """Return the temperature the verdicts hold for."""
    return _("coldest night {coldest_c} °C").format(coldest_c=format_short(coldest_c))


def first_out(solid: str) -> str:
    """Return what would leave a tank first."""
    return _("First out: {solid}").format(solid=solid)


def settling(solids: str) -> str:
    """Return what leaves a tank."""
    return _("Comes out: {solids}").format(solids=solids)


def strength_limit(ratio: float) -> str:
    """Return how strong a tank may be made."""
    return _("Up to 1:{ratio}").format(ratio=format_short(ratio))


def verdict_when_cold(verdict: str) -> str:
    """Return the verdict of a tank that changes when it gets cold."""
    return _("{verdict} when cold").format(verdict=verdict_word(verdict))


def tank_bar_text(title: str, fullness: float | None, verdict: str) -> str:
    """Return in words what a tank's bar draws."""
    if fullness is None:
        return f"{title}: {verdict}"
    return _("{title}: {percent} % of what stays dissolved, {verdict}").format(
        title=title, percent=format_short(100 * fullness, 3), verdict=verdict
    )


def weighed_on(readability: str) -> str:
    """Return the scale a weight is meant for."""
    return _("scale showing {readability} g").format(readability=readability)


def no_scale() -> str:
    """Return what stands in place of a scale where none is known."""
    return _("no scale entered")


def cautions_name() -> str:
    """Return what a screen reader calls the caution strip."""
    return _("Cautions")


def no_cautions() -> str:
    """Return what stands there when there is nothing to look out for."""
    return _("Nothing to look out for in this plan.")


def more_cautions(count: int) -> str:
    """Return the button to the cautions not shown."""
    return _("{count} more").format(count=count)


def fewer_cautions() -> str:
    """Return the button that folds the cautions up again."""
    return _("Show fewer")


def refused_value(reason: str) -> str:
    """Return why a typed value was not taken; the reason is what it is, such as "is 30000, outside 0 to 20000"."""
    return _("This {reason}.").format(reason=what_is_wrong(reason).rstrip("."))


def below_zero() -> str:
    """Return why a negative quantity is not taken."""
    return _("An amount is never below zero.")


def understood(echo: str, mg_per_l: str) -> str:
    """Return what a quantity typed in another unit was understood as."""
    return _("{echo} is {number} mg/L").format(echo=echo, number=mg_per_l)


def mark_is_decimal(typed: str, whole: str) -> str:
    """Return how a number with three figures behind its mark was read, and how to type the other one."""
    return _("{typed} was read with a decimal mark. For thousands type {whole}.").format(typed=typed, whole=whole)


def measured_out(grams: str) -> str:
    """Return how a liquid is measured, and what it weighs."""
    return _("with a measuring cylinder; it weighs {grams} g").format(grams=grams)
