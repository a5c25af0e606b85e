"""Sentences for recipes side by side: what differs, ratios, cost and bags, and recipes adapted from others."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_number, format_short
from app.wording.words import joined, nutrient_word, salt_in_sentence, tank_title

if TYPE_CHECKING:
    from core.blend.adapt import Adapted, Dose
    from core.blend.ratios import Ratio, Usual
    from core.plan.comparison import Differing
    from core.plan.costing import Bag, Costing

DIFFERING_SENTENCES = {
    "new": marked("{product} comes in: {after} mg/L"),
    "gone": marked("{product} goes: {before} mg/L before"),
    "amount": marked("{product}: {after} instead of {before} mg/L"),
    "nutrient": marked("{nutrient}: {after} instead of {before} mg/L"),
    "ec": marked("EC: {after} instead of {before} mS/cm"),
    "ph": marked("pH: {after} instead of {before}"),
    "cost": marked("cost of 1000 L: {after} instead of {before} {currency}"),
    "tanks": marked("tanks: {after} instead of {before}"),
}

ION_NAMES = {
    "K": marked("potassium"), "Ca": marked("calcium"), "Mg": marked("magnesium"), "NH4": marked("ammonium"),
    "Na": marked("sodium"), "NO3": marked("nitrate"), "H2PO4": marked("phosphate"), "SO4": marked("sulfate"),
    "Cl": marked("chloride"), "HCO3": marked("bicarbonate"),
}  # fmt: skip


def differing_text(one: Differing) -> str:
    """Return one difference in words: "potassium nitrate: 310 instead of 216 mg/L"."""
    text = _(DIFFERING_SENTENCES[one.kind]).format(
        product=salt_in_sentence(one.about),
        nutrient=nutrient_word(one.about),
        currency=one.about,
        before=_figure(one.kind, one.before),
        after=_figure(one.kind, one.after),
    )
    return (text[:1].upper() + text[1:] if one.kind not in ("ph",) else text).rstrip()


def _figure(kind: str, value: float | None) -> str:
    if value is None:
        return _("not known")
    decimals = {"ec": 2, "ph": 1, "cost": 2, "tanks": 0}.get(kind)
    return format_short(value) if decimals is None else format_decimals(value, decimals)


def ratio_text(ratio: Ratio) -> str:
    """Return a ratio with what is usual: "N to K 1 : 1.29 (usual 1.28 to 1.52: Ikeda 1996)"."""
    if ratio.kind == "n-to-k":
        text = _("N to K by mass 1 : {value}").format(value=format_number(ratio.value))
    else:
        name = _(ION_NAMES.get(ratio.about, ratio.about))
        whole = {"k-ca-mg": _("of K, Ca and Mg"), "cations": _("of cations"), "anions": _("of anions")}[ratio.kind]
        text = _("{ion} {value} % {whole}").format(ion=name, value=format_short(ratio.value), whole=whole)
    return text if ratio.usual is None else f"{text} ({usual_text(ratio.usual)})"


def usual_text(usual: Usual) -> str:
    """Return the usual range with where it is from, and that it is recalled where no print was seen."""
    low, high = format_short(usual.low), format_short(usual.high)
    source = joined(list(usual.sources[:2])) + (_(" and others") if len(usual.sources) > 2 else "")
    if usual.how_known == "MEMORY":
        source = _("{source}, partly recalled, not seen in print").format(source=source)
    if low == high:
        return _("usual {value}: {source}").format(value=low, source=source)
    return _("usual {low} to {high}: {source}").format(low=low, high=high, source=source)


def costing_text(costing: Costing) -> str:
    """Return the cost per 1000 L, per 100 US gallons and, where the use is known, per square metre and season."""
    if costing.per_1000_l is None or costing.per_100_us_gal is None:
        if not costing.missing or len(costing.missing) == len(costing.bags):
            return _("not known: nothing in use has a price")
        missing = joined([salt_in_sentence(key) for key in costing.missing])
        return _("not known without the price of {missing}").format(missing=missing)
    parts = [
        _("{money} per 1000 L").format(money=_money(costing.per_1000_l, costing.currency)),
        _("{money} per 100 US gal").format(money=_money(costing.per_100_us_gal, costing.currency)),
    ]
    if costing.per_m2_season is not None:
        parts.append(_("{money} per m2 and season").format(money=_money(costing.per_m2_season, costing.currency)))
    return ", ".join(parts)


def bag_text(bag: Bag, currency: str) -> str:
    """Return what to buy: "potassium nitrate: 3.1 kg, bags of 25 kg: 1, 21.9 kg left over, EUR 40.00"."""
    text = _("{salt}: {kg} kg").format(salt=salt_in_sentence(bag.entry_id), kg=format_number(bag.needed_kg))
    if bag.packs is None or bag.pack_kg is None or bag.left_over_kg is None:
        return text
    text = _("{text}, bags of {pack} kg: {packs}, {left} kg left over").format(
        text=text, packs=bag.packs, pack=format_short(bag.pack_kg), left=format_short(bag.left_over_kg)
    )
    if bag.pays is None:
        return text
    dated = "" if bag.priced_on is None else _(" (price of {date})").format(date=bag.priced_on)
    return f"{text}, {_money(bag.pays, currency)}{dated}"


def _money(amount: float, currency: str) -> str:
    return f"{currency} {format_decimals(amount, 2)}".strip()


def another_water() -> str:
    """Return what a water without a name is called in the title of a recipe adapted to it."""
    return _("another water")


def from_tanks_words() -> str:
    """Return what a recipe from tanks already mixed is called in its title."""
    return _("from tanks already mixed")


def tank_as_mixed(content: str, letter: str) -> str:
    """Return what a tank already mixed is called as a product: "calcium side A as mixed"."""
    return _("{title} {letter} as mixed").format(title=tank_title(content), letter=letter)


def adapted_title(title: str, about: str) -> str:
    """Return the title of an adapted recipe, with its parent named."""
    parent = title or _("untitled recipe")
    return _("{about}, adapted from {parent}").format(about=about, parent=parent)


def dose_text(dose: Dose) -> str:
    """Return how much of a tank already mixed goes into the feed."""
    return _("{tank}: {ml} mL per litre of finished feed instead of {meant}").format(
        tank=salt_in_sentence(dose.entry_id), ml=format_number(dose.ml_per_l), meant=format_short(dose.meant_ml_per_l)
    )


def added_text(entry_id: str, mg_per_l: float) -> str:
    """Return how much of a supplement goes into the feed beside tanks already mixed."""
    return _("{salt}: {grams} g for 1000 L of finished feed").format(
        salt=salt_in_sentence(entry_id), grams=format_number(mg_per_l)
    )


def adapted_text(adapted: Adapted) -> str:
    """Return how well an adaptation came out."""
    if adapted.doses and not adapted.in_range:
        return _("These tanks do not reach every range, whatever the shelf adds; this is the nearest.")
    if adapted.doses and adapted.supplements:
        return _("These tanks reach every range with {salts} added.").format(
            salts=joined([salt_in_sentence(key) for key in adapted.supplements])
        )
    if adapted.doses:
        return _("These tanks reach every range as they stand.")
    return _("Every target is in its range.") if adapted.in_range else _("Not every target is in its range.")


def adapted_remarks(adapted: Adapted) -> list[str]:
    """Return how an adaptation came out, a sentence each: its doses, what was kept."""
    doses = [dose_text(dose) for dose in adapted.doses]
    told = [adapted_text(adapted), *(f"{text[:1].upper()}{text[1:]}." for text in doses)]
    if adapted.kept_traces:
        names = joined([nutrient_word(nutrient) for nutrient in adapted.kept_traces])
        told.append(_("Targets kept, as the new crop's source names none: {nutrients}.").format(nutrients=names))
    return told
