"""The sentences of the cards beside the Compare table: cost against fit, shares, sensitivity, use, adapting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.compare import ION_NAMES, usual_text
from app.wording.comparing import money
from app.wording.goals import named
from app.wording.language import gettext as _
from app.wording.numbers import format_number, format_short
from app.wording.window import CURRENCY_SIGNS
from app.wording.words import joined, nutrient_word

if TYPE_CHECKING:
    from core.blend.ratios import Ratio


def no_curve(missing: tuple[str, ...]) -> str:
    """Return why there is no curve of cost against fit."""
    if not missing:
        return _("Cost against fit needs prices, and nothing on the shelf has one.")
    return _("Cost against fit needs prices. Without one: {salts}.").format(salts=named(missing))


def curve_name() -> str:
    """Return what a screen reader calls the plot."""
    return _("Cost of 1000 L against the worst miss of a target. Left and right walk along it")


def curve_axes(currency: str) -> tuple[str, str]:
    """Return what the plot's axes are: across, and up."""
    sign = CURRENCY_SIGNS.get(currency, currency)
    return _("worst miss of a target, %"), _("{currency} per 1000 L").format(currency=sign).strip()


def curve_corner(deviation_percent: float, per_1000_l: float, currency: str) -> str:
    """Return one corner of the curve."""
    return _("With a worst miss of {percent} % the cheapest costs {money} per 1000 L.").format(
        percent=format_short(deviation_percent, 2), money=money(per_1000_l, currency)
    )


def curve_point(name: str, deviation_percent: float, per_1000_l: float, currency: str) -> str:
    """Return where a variant stands in the plot."""
    return _("{name}: worst miss {percent} %, {money} per 1000 L.").format(
        name=name, percent=format_short(deviation_percent, 2), money=money(per_1000_l, currency)
    )


def curve_note(left_out: tuple[str, ...], unpriced: tuple[str, ...]) -> str:
    """Return what the curve leaves out, and how a miss is counted."""
    parts = [
        _("The line is the cheapest there is for every worst miss; each variant is a point, judged by its own aim.")
    ]
    parts.append(_("A miss of sulfur counts a fifth, one of a trace element a tenth, unless the aim says otherwise."))
    if left_out:
        names = joined([nutrient_word(nutrient) for nutrient in left_out])
        parts.append(_("Not counted, as nothing with a price brings it: {nutrients}.").format(nutrients=names))
    if unpriced:
        parts.append(_("Left aside for want of a price: {salts}.").format(salts=named(unpriced)))
    return " ".join(parts)


def shares_name() -> str:
    """Return what a screen reader calls the plot of shares."""
    return _("Shares of the ions with what is usual")


def share_groups() -> dict[str, str]:
    """Return what each group of shares is called."""
    return {"k-ca-mg": _("K, Ca and Mg"), "cations": _("Cations"), "anions": _("Anions")}


def ion_name(ion: str) -> str:
    """Return an ion's word."""
    return _(ION_NAMES.get(ion, ion))


def share_figure(value: float) -> str:
    """Return a share."""
    return _("{percent} %").format(percent=format_short(value, 2))


def ratio_told(ratio: Ratio) -> str:
    """Return N to K in a sentence, and whether that is usual for the crop."""
    text = _("For 1 g of nitrogen the feed holds {value} g of potassium").format(value=format_number(ratio.value))
    if ratio.usual is None:
        return _("{text}.").format(text=text)
    word = _("which is unusual") if ratio.unusual else _("much as usual")
    return _("{text}, {word}: {usual}.").format(text=text, word=word, usual=usual_text(ratio.usual))


def shares_told(unusual: list[Ratio], sources: list[str], *, crop_known: bool) -> str:
    """Return which shares are unusual, and where the usual ones are from."""
    if not sources:
        return _("What is usual for this crop is not known.")
    where = joined(sources[:3]) + (_(" and others") if len(sources) > 3 else "")
    source = _("Usual: {sources}.").format(sources=where)
    if not crop_known:
        source = _("No crop is named, so the universal solution stands in: {sources}.").format(sources=where)
    if not unusual:
        return _("The shares lie about where they usually do. {source}").format(source=source)
    told = joined([_share_off(ratio) for ratio in unusual[:4]])
    return _("Unusual: {shares}. {source}").format(shares=told, source=source)


def _share_off(ratio: Ratio) -> str:
    assert ratio.usual is not None
    low, high = format_short(ratio.usual.low, 2), format_short(ratio.usual.high, 2)
    span = low if low == high else _("{low} to {high}").format(low=low, high=high)
    return _("{ion} {value} % of {group} (usual {span})").format(
        ion=ion_name(ratio.about), value=format_short(ratio.value, 2), group=share_groups()[ratio.kind], span=span
    )


def recalled() -> str:
    """Return the mark of sources that were not seen in print."""
    return _("Partly recalled, not seen in print.")


def sensitivity_looking() -> str:
    """Return what stands there until the sensitivity is worked out."""
    return _("Working it out…")


def nothing_sensed() -> str:
    """Return that neither a price nor a tolerance would do anything."""
    return _("Nothing on the shelf is left unused, and no bound is reached.")


def prices_wanted() -> str:
    """Return the button that leads to the prices."""
    return _("Enter prices…")


def use_litres() -> str:
    """Return the label of how much feed the bags are for."""
    return _("Feed in all")


def use_season() -> tuple[str, str]:
    """Return the label of how much a square metre gets in a season, and its unit."""
    return _("Or in a season"), _("L per m²")


def use_area() -> tuple[str, str]:
    """Return the label of the area, and its unit."""
    return _("on"), _("m²")


def use_words(feed_l: float, *, filling: bool) -> str:
    """Return what the bags are counted for."""
    if filling:
        return _("Counted for one filling of the tanks, {litres} L.").format(litres=format_short(feed_l, 4))
    return _("Counted for {litres} L of feed.").format(litres=format_short(feed_l, 4))


def adapt_intro() -> str:
    """Return what the sheet that adapts is for."""
    return _("Makes a new recipe of this one and sets it beside it. This recipe stays as it is.")


def adapt_crop() -> tuple[str, str]:
    """Return what the search among crops is called here, and its hint."""
    return _("Another crop or stage"), _("Crop: cucumber, tomato, lettuce …")


def adapt_water() -> tuple[str, str]:
    """Return what the search among waters is called here, and its hint."""
    return _("Another water"), _("Water: rain, soft, hard …")


def adapt_water_file() -> str:
    """Return the button that takes the water of a file."""
    return _("Water from a file…")


def adapt_tanks() -> str:
    """Return the box to tick where the tanks already mixed are to be used."""
    return _("From the tanks of this recipe, already mixed")


def adapt_tanks_words() -> str:
    """Return what is done with tanks already mixed."""
    return _("The tanks are dosed unequally, and as few salts are added as bring every target into its range.")


def adapt_chosen(what: str) -> str:
    """Return what was chosen, right below the search it was found with."""
    return _("Chosen: {what}").format(what=what) if what else ""


def adapt_nothing() -> str:
    """Return that there is nothing to make a recipe for yet."""
    return _("Nothing chosen yet.")


def adapt_make() -> str:
    """Return the button that makes the new recipe."""
    return _("Make it a variant")


def water_filter() -> str:
    """Return the kinds of file that hold a water."""
    return _("Water reports and recipes (*.json *.saltwright);;All files (*)")


def add_dialog() -> str:
    """Return the title of the dialog that asks for a recipe to add."""
    return _("Add a recipe to compare")


def water_dialog() -> str:
    """Return the title of the dialog that asks for a water."""
    return _("Take the water of a file")


def use_edit(name: str) -> str:
    """Return what the menu calls opening a variant as the recipe."""
    return _("take {name}").format(name=name)
