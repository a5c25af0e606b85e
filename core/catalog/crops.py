"""What crops want, as published: one profile per crop, stage and source; sources that disagree stand side by side."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache
from typing import Literal

import msgspec

from core.catalog.resource import Known, read

_LONGEST_ID = 60
MOST_SUGGESTED = 5


class UnknownCrop(ValueError):
    """A crop profile id the catalog does not hold."""

    def __init__(self, crop_id: str) -> None:
        self.crop_id = crop_id
        self.close = _close(crop_id[:_LONGEST_ID].casefold(), [profile.id for profile in crops()])
        hint = f"; did you mean {' or '.join(self.close)}?" if self.close else "."
        super().__init__(f'The catalog holds no crop profile "{crop_id[:_LONGEST_ID]}"{hint}')


def _close(asked: str, ids: list[str]) -> tuple[str, ...]:
    """Profiles of a crop that is named without its source, else the ids spelled most like what was asked for."""
    of_crop = [one for one in ids if asked and one.startswith(f"{asked}-")]
    return tuple(of_crop[:MOST_SUGGESTED] or get_close_matches(asked, ids, n=3))


class CropTarget(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """What a profile wants of one nutrient [mg/L], the water's share included.

    Where the source prints a range, low and high are its ends and `mg_per_l` its middle (or its stated best, or the
    one end there is); where it prints one figure, low and high are None.
    """

    nutrient: str
    mg_per_l: float
    low_mg_per_l: float | None = None
    high_mg_per_l: float | None = None


class CropProfile(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A published profile of one crop at one stage.

    `kind`: "recipe" a solution to feed; "uptake" what plants took per litre of water, for topping up and not for a
    first fill; "range" limits or an EC and pH only. EC is that of the feed at 25 °C, or its rise over the water where
    `ec_is_rise_over_water` says so.
    """

    id: str
    crop: str
    stage: str
    kind: Literal["recipe", "uptake", "range"]
    known: Known
    targets: tuple[CropTarget, ...] = ()
    ec_low_ms_per_cm: float | None = None
    ec_high_ms_per_cm: float | None = None
    ec_is_rise_over_water: bool = False
    ph_low: float | None = None
    ph_high: float | None = None
    stated_ammonium_share_percent: float | None = None

    @property
    def ammonium_share_percent(self) -> float | None:
        """Ammonium's share of the nitrogen [%]: from the targets, else as stated, else None."""
        wanted = {target.nutrient: target.mg_per_l for target in self.targets}
        ammonium, nitrate = wanted.get("NH4-N"), wanted.get("NO3-N")
        if ammonium is None or nitrate is None:
            return self.stated_ammonium_share_percent
        return 100.0 * ammonium / (ammonium + nitrate)


@cache
def crops() -> tuple[CropProfile, ...]:
    """Return every crop profile, full recipes first and lists of EC and pH last."""
    return read("crops.json", tuple[CropProfile, ...])


@cache
def _crops_by_id() -> dict[str, CropProfile]:
    return {profile.id: profile for profile in crops()}


def crop(crop_id: str) -> CropProfile:
    """Return the profile with this id; raises UnknownCrop, naming close matches, where there is none."""
    try:
        return _crops_by_id()[crop_id]
    except KeyError:
        raise UnknownCrop(crop_id) from None


def crops_of(crop_name: str) -> tuple[CropProfile, ...]:
    """Return every profile of one crop ("tomato"), whatever the source; empty where there is none."""
    wanted = crop_name.strip().casefold()
    return tuple(profile for profile in crops() if profile.crop.casefold() == wanted)


@cache
def highest_published_mg_per_l(nutrient: str) -> float:
    """Return the most of a nutrient that any feed or range of the catalog holds [mg/L]; 0 where none names it."""
    wanted = (target for profile in crops() if profile.kind != "uptake" for target in profile.targets)
    return max((max(t.mg_per_l, t.high_mg_per_l or 0.0) for t in wanted if t.nutrient == nutrient), default=0.0)
