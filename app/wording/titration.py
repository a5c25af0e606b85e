"""The sentences around the titration curve: the axes, the marks, what acid and air do to this feed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.chemistry_figures import saturation
from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_short
from app.wording.words import salt_in_sentence

if TYPE_CHECKING:
    from core.plan.titration import Titration

HARDLY_BUFFERED_MEQ_PER_L = 0.3
LIFTED_PH = 0.15
"""Airing that lifts the pH by less is not worth a word."""


def title(base: bool = False) -> str:
    """Return the card's title."""
    return _("What a base does to this feed") if base else _("What acid does to this feed")


def choice_name() -> str:
    """Return what a screen reader calls the choice of an acid."""
    return _("Acid or base to look at")


def offered(name: str, on_shelf: bool) -> str:
    """Return an acid as it is offered."""
    return name if on_shelf else _("{name} (not on the shelf)").format(name=name)


def curve_name() -> str:
    """Return what a screen reader calls the curve."""
    return _("Titration curve")


def legend() -> tuple[str, str]:
    """Return what the two lines are."""
    return _("fresh"), _("aired")


def planned_mark() -> str:
    """Return what stands at the plan's own dose."""
    return _("planned")


def wanted_mark() -> str:
    """Return what stands at the pH the aim names."""
    return _("wanted")


def clouding() -> str:
    """Return what stands at the doses at which calcium phosphate is above saturation."""
    return _("calcium phosphate may cloud")


def product(curve: Titration) -> str:
    """Return the product dosed: "nitric acid 60 %"."""
    name = salt_in_sentence(curve.acid_id)
    if curve.strength_percent is None or curve.unit == "g":
        return name
    return _("{name} {strength} %").format(name=name, strength=format_short(curve.strength_percent))


def dose(curve: Titration, amount: float) -> str:
    """Return a dose with its unit."""
    return _("{number} {unit}").format(number=format_short(amount), unit=curve.unit)


def axis(curve: Titration) -> str:
    """Return the title of the axis of doses."""
    return _("{unit} of {product} per 1000 L of feed").format(unit=curve.unit, product=product(curve))


def point(curve: Titration, amount: float) -> str:
    """Return one point of the curve."""
    fresh, aired = curve.at(amount)
    return _("{dose}: pH {fresh} fresh, {aired} aired").format(
        dose=dose(curve, amount), fresh=format_decimals(fresh, 1), aired=format_decimals(aired, 1)
    )


def point_explanation(curve: Titration, amount: float) -> str:
    """Return what a point of the curve is, from where, how sure."""
    text = _(
        "{point}. The feed before this product ({alkalinity} meq/L of alkalinity) and this much {product}, all "
        "forms worked out anew at each dose; it follows PHREEQC to 0.01 pH. As sure as the water report and the "
        "strength on the label are: where the curve is steep, dose in small steps and read."
    )
    return text.format(
        point=point(curve, amount),
        alkalinity=format_short(curve.alkalinity_meq_per_l, 2),
        product=product(curve),
    )


def dose_sentence(curve: Titration) -> str:
    """Return what the plan's own dose does, or what dose of another product would do the same."""
    start, (fresh, aired) = format_decimals(curve.ph_closed[0], 1), curve.ph_planned
    shown = {"start": start, "fresh": format_decimals(fresh, 1), "aired": format_decimals(aired, 1)}
    if curve.planned_dose is not None:
        text = _("The plan's {dose} of {product} per 1000 L take the fresh feed from pH {start} to {fresh}.")
        return text.format(dose=dose(curve, curve.planned_dose), product=product(curve), **shown)
    needed = curve.dose_for(fresh)
    if needed is None or needed < 1e-6 * curve.dose_per_1000_l[-1]:
        return _("The plan doses none of it; without any the fresh feed stands at pH {start}.").format(**shown)
    text = _("{dose} of {product} per 1000 L would bring the fresh feed to pH {fresh}, as the plan does.")
    shown["aired"] = format_decimals(curve.at(needed)[1], 1)
    return text.format(dose=dose(curve, needed), product=product(curve), **shown)


def air_sentence(curve: Titration) -> str:
    """Return what the air will do to the pH."""
    fresh, aired = curve.ph_planned
    if aired - fresh < LIFTED_PH:
        return _("Airing hardly changes the pH.")
    return _(
        "Airing drives carbonic acid out and lifts it to {aired}: judge by the alkalinity left, not the first reading."
    ).format(aired=format_decimals(aired, 1))


def order_sentence(curve: Titration) -> str:
    """Return why the acid goes in first, or that the order matters little."""
    if curve.brushite is None or curve.is_base:
        return ""
    before = saturation(curve.brushite[0])
    if curve.brushite[0] <= 0.0:
        return _("Even without acid calcium phosphate stays dissolved ({before} full).").format(before=before)
    at = curve.planned_dose if curve.planned_dose is not None else curve.dose_for(curve.ph_planned[0])
    if at is None:
        return _("Without acid calcium phosphate is at {before} of what stays dissolved.").format(before=before)
    after = saturation(_value_at(curve, at))
    return _(
        "Before the acid calcium phosphate is at {before} of what stays dissolved, after it at {after}: "
        "so acid goes into hard water first."
    ).format(before=before, after=after)


def buffer_sentence(curve: Titration) -> str:
    """Return a word of care for a feed that hardly holds its pH."""
    if curve.alkalinity_meq_per_l >= HARDLY_BUFFERED_MEQ_PER_L or curve.is_base:
        return ""
    return _(
        "With {alkalinity} meq/L of alkalinity this feed is hardly buffered: very little acid moves it far."
    ).format(alkalinity=format_short(max(curve.alkalinity_meq_per_l, 0.0), 2))


def sentences(curve: Titration) -> str:
    """Return all that is to be said of the curve."""
    parts = (dose_sentence(curve), air_sentence(curve), order_sentence(curve), buffer_sentence(curve))
    return " ".join(part for part in parts if part)


def curve_text(curve: Titration) -> str:
    """Return the curve in words, for screen readers."""
    last = curve.dose_per_1000_l[-1]
    points = "; ".join(point(curve, last * share) for share in (0.0, 0.25, 0.5, 0.75, 1.0))
    return f"{figures.capital(axis(curve))}. {points}."


def _value_at(curve: Titration, amount: float) -> float:
    assert curve.brushite is not None
    doses = curve.dose_per_1000_l
    place = min(range(len(doses)), key=lambda number: abs(doses[number] - amount))
    return curve.brushite[place]
