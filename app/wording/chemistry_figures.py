"""The figures of the feed chemistry: number, unit, and what it is, where it comes from, how sure it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.chemistry import percent, total_word
from app.wording.language import gettext as _
from app.wording.numbers import format_decimals, format_short
from app.wording.words import joined

if TYPE_CHECKING:
    from core.plan.chemistry_details import FeedChemistry, Held


def figure_headings() -> tuple[str, str, str, str, str, str]:
    """Return what stands over the figures."""
    return (
        _("EC at 25 °C"),
        _("pH fresh, then aired"),
        _("Ionic strength"),
        _("Charge, each side"),
        _("Calcium phosphate"),
        _("Iron kept by its chelate"),
    )


def ec_figure(told: FeedChemistry) -> tuple[str, str, str]:
    """Return the EC: number, unit, explanation."""
    ec, field = format_decimals(told.ec_ms_per_cm, 2), format_short(told.field_band_percent, 2)
    text = _(
        "EC {ec} mS/cm at 25 °C: every ion's amount times its mobility, slowed by the others (Debye, Hückel, Onsager). "
        "Mobilities from the CRC Handbook. Sure to ± {model} % where the amounts are exactly known (0.7 % on average "
        "over measured single salts, 0.8 % over 100 laboratory analyses of feeds), to ± {field} % at the bench."
    )
    return (
        ec,
        _("mS/cm ± {field} %").format(field=field),
        text.format(ec=ec, model=format_short(told.model_band_percent, 2), field=field),
    )


def ph_figure(told: FeedChemistry, alkalinity_meq_per_l: float) -> tuple[str, str, str]:
    """Return the pH fresh and aired: number, unit, explanation."""
    fresh, aired = format_decimals(told.ph, 1), format_decimals(told.ph_aired, 1)
    text = _(
        "pH {fresh} while the feed keeps its carbonic acid, {aired} once it is at rest with the air (420 ppm CO₂). "
        "From the alkalinity left, {alkalinity} meq/L, and every weak acid in the feed; it follows PHREEQC to 0.01. "
        "No surer than the alkalinity in the water report: that decides it."
    )
    shown = _("{fresh} → {aired}").format(fresh=fresh, aired=aired)
    alkalinity = format_short(alkalinity_meq_per_l, 2)
    return (
        shown,
        _("at {at_c} °C").format(at_c=format_short(told.temperature_c)),
        text.format(fresh=fresh, aired=aired, alkalinity=alkalinity),
    )


def strength_figure(told: FeedChemistry) -> tuple[str, str, str]:
    """Return the ionic strength: number, unit, explanation."""
    mmol = format_short(1e3 * told.ionic_strength_mol_per_l)
    text = _(
        "Ionic strength {mmol} mmol/L: half the sum of every ion times its charge squared, which tells how much ions "
        "hinder each other. Activities by the parameters of phreeqc.dat; the chemistry holds up to 100 mmol/L."
    )
    return mmol, _("mmol/L"), text.format(mmol=mmol)


def charge_figure(told: FeedChemistry) -> tuple[str, str, str]:
    """Return the charge of cations and anions as dissolved: number, unit, explanation."""
    cations, anions = format_short(told.cations_meq_per_l), format_short(told.anions_meq_per_l)
    text = _(
        "Cations carry {cations} meq/L, anions {anions}, as they are dissolved: a solution is always neutral. Less "
        "than on the Ions card, because pairs hide part of the charge. What a report leaves open counts as an ion "
        "without a name."
    )
    return cations, _("meq/L"), text.format(cations=cations, anions=anions)


def phosphate_figure(told: FeedChemistry) -> tuple[str, str, str]:
    """Return how full the feed is of calcium phosphate, fresh and aired: number, unit, explanation."""
    fresh, aired = (index.get("brushite") for index in (told.saturation_index, told.saturation_index_aired))
    if fresh is None or aired is None:
        return figures.DASH, "", _("This feed holds no calcium, or no phosphate, so no calcium phosphate can settle.")
    text = _(
        "Calcium phosphate (brushite) stands at {fresh} of what stays dissolved while the feed is fresh, at {aired} "
        "once aired. Above 100 % it may cloud, slowly. Solubility product of MINTEQA2 v4, read in the source; with the "
        "same constants it equals PHREEQC to 1 %. Apatite is left out: by its constants every feed is far above it."
    )
    now, later = saturation(fresh), saturation(aired)
    return now, _("full, aired {later}").format(later=later), text.format(fresh=now, aired=later)


def saturation(index: float) -> str:
    """Return a saturation index as a share of what stays dissolved."""
    share = 100.0 * 10.0**index
    return percent(share) if share < 1.0 else _("{number} %").format(number=format_short(share, 2))


def iron_figure(told: FeedChemistry) -> tuple[str, str, str]:
    """Return the share of iron that stays chelated once the feed has aired: number, unit, explanation."""
    fresh, aged = told.iron_chelated_percent, told.iron_chelated_ferrihydrite_percent
    if fresh is None or aged is None:
        return figures.DASH, _("no chelated iron"), _("This feed holds no chelated iron.")
    text = _(
        "At pH {ph}, once aired, {fresh} of the iron stays with its chelate beside fresh iron hydroxide, {aged} beside "
        "what that ages to in weeks. {held} Stability constants: NIST 46 and MINTEQA2 v4, read, some from memory; the "
        "hydroxide's is known to a power of ten only, so take this as a warning sign, not as a measurement."
    )
    shown = [format_short(share, 2) for share in (fresh, aged)]
    explained = text.format(
        ph=format_decimals(told.ph_aired, 1), fresh=f"{shown[0]} %", aged=f"{shown[1]} %", held=held_text(told.held)
    )
    return _("{number} %").format(number=shown[0]), _("aired, aged {aged} %").format(aged=shown[1]), explained


def held_text(held: tuple[Held, ...]) -> str:
    """Return what other metals hold of the ligands."""
    rivals = [one for one in held if one.metal not in ("Fe3", "Ca", "Mg") and one.percent_of_metal >= 1.0]
    if not rivals:
        return _("Hardly any other metal takes part of it.")
    words = [
        _("{share} of the {metal}").format(
            share=f"{format_short(one.percent_of_metal, 2)} %", metal=total_word(one.metal)
        )
        for one in sorted(rivals, key=lambda one: -one.mmol_per_l)
    ]
    return _("The chelates hold {metals} as well.").format(metals=joined(words))
