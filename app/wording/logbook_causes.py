"""Why a reading differs, in sentences: each cause, how likely it is, and the test that tells it from the others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_short
from app.wording.words import joined, salt_in_sentence

if TYPE_CHECKING:
    from core.logbook.triage_records import Ask, Cause, Triage

LIKELY, POSSIBLE = 50.0, 15.0


def differs(told: Triage) -> str:
    """Return by how much a reading differs from what was foretold for it."""
    read, foretold = format_decimals(told.read_ms_per_cm, 2), format_decimals(told.foretold_ms_per_cm, 2)
    percent = format_short(abs(told.off_percent), 2)
    if told.off_percent < 0:
        return _("The meter read {read} mS/cm where {foretold} was foretold: {percent} % less.").format(
            read=read, foretold=foretold, percent=percent
        )
    return _("The meter read {read} mS/cm where {foretold} was foretold: {percent} % more.").format(
        read=read, foretold=foretold, percent=percent
    )


def weighed_by(readings: int) -> str:
    """Return how many readings the causes were weighed by."""
    if readings == 1:
        return _("Weighed by this one reading, which cannot tell much: do the first test.")
    return _("Weighed by {count} readings of this diary and by how often each happens, which is our own guess.").format(
        count=readings
    )


def likelihood(percent: float) -> str:
    """Return how likely a cause is, in a word and a figure."""
    share = format_short(percent, 2)
    if percent >= LIKELY:
        return _("likely, {percent} %").format(percent=share)
    if percent >= POSSIBLE:
        return _("possible, {percent} %").format(percent=share)
    return _("less likely, {percent} %").format(percent=share)


def cause_text(cause: Cause, tanks: Mapping[str, str], products: Mapping[str, str]) -> str:
    """Return a cause in a sentence.

    Parameters
    ----------
    cause : Cause
    tanks : letter -> what the tank is called
    products : entry of the shelf -> what it is called within a sentence
    """
    about = tanks.get(cause.what, "") or products.get(cause.what, cause.what)
    sentence = _sentence(cause, about, tanks)
    also = [tanks.get(one, "") or products.get(one, one) for one in cause.also]
    if also:
        sentence = f"{sentence} " + _("Or the same with {others}.").format(others=joined(also))
    return sentence


def _sentence(cause: Cause, about: str, tanks: Mapping[str, str]) -> str:
    off = format_short(100.0 * abs(cause.factor - 1.0), 2)
    part = format_short(100.0 * cause.factor, 2)
    low = cause.factor < 1.0
    match cause.code:
        case "meter":
            return (
                _("The meter reads {percent} % too low.") if low else _("The meter reads {percent} % too high.")
            ).format(percent=off)
        case "temperature":
            return _("The meter does not compensate for temperature, or it is switched off.")
        case "scale":
            return _("The figure was on the scale {was} and was taken for {taken}.").format(
                was=cause.other, taken=cause.what
            )
        case "volume":
            return _volume(cause.ask)
        case "gallon":
            return _("Gallons of the other kind were used: an imperial gallon is a fifth more than a US gallon.")
        case "dose-forgotten":
            return _("What is written as poured was not poured.")
        case "dose-twice":
            return _("Every part was poured twice.")
        case "part-missing":
            return _("Nothing of the {tank} went in.").format(tank=about)
        case "part-dose":
            return _("The {tank} went in at {percent} % of what is written.").format(tank=about, percent=part)
        case "part-twice":
            return _("The {tank} was poured twice, and the {other} not at all.").format(
                tank=about, other=tanks.get(cause.other, cause.other)
            )
        case "salt-forgotten":
            return _("The {salt} was left out when this batch was mixed.").format(salt=about)
        case "salt-doubled":
            return _("The {salt} was weighed twice when this batch was mixed.").format(salt=about)
        case "wrong-hydrate":
            return _("In place of {salt} another bag was weighed: {other}.").format(
                salt=about, other=salt_in_sentence(cause.other)
            )
        case "tank-volume":
            return _("The {tank} is at {percent} % of its strength: filled to another volume.").format(
                tank=about, percent=part
            )
        case "water":
            return _("The water is no longer as its report says.")
        case "acid":
            return _("The acid was not poured.") if low else _("The acid was poured twice.")
        case "uptake":
            return _("The crop took other amounts of salts with its water than on the days before.")


def _volume(ask: Ask) -> str:
    true, noted = format_short(ask.if_true or 0.0), format_short(ask.if_not or 0.0)
    return _("The reservoir held about {true} L, not {noted} L.").format(true=true, noted=noted)


def ask_text(ask: Ask, tanks: Mapping[str, str], products: Mapping[str, str]) -> str:
    """Return the next test for a cause, with what it shows if it is that and if not."""
    what = tanks.get(ask.what, "") or products.get(ask.what, ask.what)
    true, other = ("" if one is None else format_decimals(one, 2) for one in (ask.if_true, ask.if_not))
    rough_true, rough_other = ("" if one is None else format_short(one) for one in (ask.if_true, ask.if_not))
    match ask.code:
        case "standard":
            return _("Read a {right} mS/cm standard: about {true} if it is this.").format(
                right=format_decimals(ask.if_not or 0.0, 3), true=true
            )
        case "at-25":
            return _("Read a sample at 25 °C: about {true} mS/cm if it is this, {other} if not.").format(
                true=true, other=other
            )
        case "display":
            return _("Look which scale the display names: {figure} on {scale} if it is this.").format(
                figure=rough_true, scale=what
            )
        case "volume":
            return _("Measure what is in it: about {true} L if it is this, {other} L if not.").format(
                true=rough_true, other=rough_other
            )
        case "tank-level":
            return _("Look how much is gone of the {tank}: {true} mL if it is this, {other} mL if not.").format(
                tank=what, true=rough_true, other=rough_other
            )
        case "part-alone":
            return _(
                "Stir {dose} mL of the {tank} alone into a litre of the water and read it: "
                "{true} mS/cm if it is this, {other} if not."
            ).format(dose=format_short(ask.dose or 0.0), tank=what, true=true, other=other)
        case "plain-water":
            return _("Read the water alone: about {true} mS/cm if it is this, {other} if not.").format(
                true=true, other=other
            )
        case "analysis":
            return _("Have a sample analysed: the meter cannot tell which salts the crop took.")
