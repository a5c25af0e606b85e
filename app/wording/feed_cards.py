"""The words of the cards beside the steps of the Feed surface: the curve, the pH, the reservoir's last entries."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import feed
from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_short
from app.wording.words import joined

if TYPE_CHECKING:
    from core.bench.meter import Meter
    from core.logbook.records import Entry
    from core.plan.feeding_records import Curve, Feeding, PhForecast
    from core.units.formats import System


def curve_title() -> str:
    """Return the title of the curve."""
    return _("EC against what you pour")


def curve_axis(curve: Curve, unit: str) -> str:
    """Return the title of the axis of doses."""
    if curve.equal:
        return _("{unit} of each").format(unit=unit)
    return _("{unit} {part}, the others in step").format(unit=unit, part=feed.part(curve.lead_content))


def curve_text(curve: Curve, told: Feeding, system: System, meter: Meter) -> str:
    """Return the curve in words."""
    parts = [feed.in_all_text(told, system)]
    for dose, ec in curve.points:
        at = feed.millilitres(dose, system)
        parts.append(_("At {dose} it read {reading}.").format(dose=at, reading=feed.reading(ec, meter)))
    return " ".join(part for part in parts if part)


def as_forecast() -> str:
    """Return what the dashed line is."""
    return _("as foretold")


def band_mark(crop: str, low: str, high: str) -> str:
    """Return what the wanted band is."""
    if crop:
        return _("{crop} {low} to {high}").format(crop=crop, low=low, high=high)
    return _("near enough: {low} to {high}").format(low=low, high=high)


def point_mark(reading: str) -> str:
    """Return what stands beside a reading."""
    return _("read {reading}").format(reading=reading)


def wanted_point(amount: str) -> str:
    """Return what stands beside the dose wanted."""
    return _("{amount}: wanted").format(amount=amount)


def ph_title() -> str:
    """Return the title of the card about pH."""
    return _("pH, afterwards")


def to_ph() -> str:
    """Return what stands before the field of the wanted pH."""
    return _("to pH")


def no_such_ph() -> str:
    """Return why a pH is not taken."""
    return _("Feeds are kept between pH 4 and 9.")


def no_curve() -> str:
    """Return what stands in place of the curve."""
    return _("The curve is drawn once the first reading is taken.")


def ph_rows(told: PhForecast) -> list[tuple[str, float]]:
    """Return the pH now, after each step, and aired."""
    rows = [(_("now, read") if told.measured else _("now, foretold"), told.ph)]
    unit = "" if told.drop is None else told.drop.unit
    for total, ph in told.steps:
        amount = format_short(total, 3 if total >= 10 else 2)
        rows.append((_("after {amount} {unit}").format(amount=amount, unit=unit), ph))
    rows.append((_("tomorrow, aired"), told.ph_aired_after))
    return rows


def ph_sentence(told: PhForecast) -> str:
    """Return what to know of this pH."""
    low, high = (format_decimals(end, 1) for end in told.wanted)
    left = format_short(max(told.alkalinity_after_meq_per_l, 0.0), 2)
    aired = format_decimals(told.ph_aired_after, 1)
    if told.steps:
        text = _("In equal small steps, stirred and read; {left} meq/L of alkalinity stay.").format(left=left)
    elif told.ph < told.wanted[0]:
        return _("Low by its carbonic acid alone: air lifts it to {aired}. No base.").format(aired=aired)
    else:
        text = _("Within {low} to {high}: nothing to do now.").format(low=low, high=high)
    if told.ph_aired_after > told.wanted[1]:
        return _("{text} Air lifts it to {aired}: read again tomorrow.").format(text=text, aired=aired)
    return text


def products_name() -> str:
    """Return what a screen reader calls the choice of acid or base."""
    return _("Acid or base")


def catalog_product(name: str) -> str:
    """Return a product that is not on the shelf as it is offered."""
    return _("{name} (not on the shelf)").format(name=name)


def diary_title() -> str:
    """Return the title of the card of last entries."""
    return _("This reservoir")


def diary_empty(chosen: bool) -> str:
    """Return what stands in place of entries."""
    if chosen:
        return _("Nothing is written in its diary yet.")
    return _("No reservoir of the logbook is chosen. At the end this dosing can be written into one, or a new one.")


def entry_parts(entry: Entry, system: System) -> tuple[str, str, str]:
    """Return an entry's day, what was read and what was done."""
    day = entry.at[5:10] if len(entry.at) >= 10 else entry.at
    read = []
    if entry.ec_ms_per_cm is not None:
        read.append(format_decimals(entry.ec_ms_per_cm, 2))
    if entry.ph is not None:
        read.append(feed.ph(entry.ph))
    done = [_("filled")] if entry.fresh else []
    if entry.water_l and not entry.fresh:
        done.append(_("{volume} water").format(volume=feed.volume(entry.water_l, system)))
    amounts = sorted({round(ml, 3) for ml in entry.parts_ml.values() if ml})
    if len(amounts) == 1:
        done.append(_("{amount} of each").format(amount=feed.millilitres(amounts[0], system)))
    elif amounts:
        done.append(joined([feed.millilitres(ml, system) for ml in entry.parts_ml.values() if ml]))
    return day, ", ".join(read), ", ".join(done) or entry.note
