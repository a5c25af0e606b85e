"""Ratios growers look at: N to K, K to Ca to Mg, shares of cations and anions, with what is usual for the crop.

Usual values come from the catalog's published solutions of the crop (N:K by mass, the rest by charge). Where the crop
is not known the solution called universal stands in: cations K 35, Ca 45, Mg 20 %, anions NO3 60, H2PO4 5, SO4 35 %
(Steiner 1984, "The universal nutrient solution"; MEMORY).
"""

from __future__ import annotations

from msgspec import Struct

from core.blend.nutrients import COLUMN, Array
from core.catalog import ATOMIC_WEIGHTS, CropProfile, crop, crops_of, sources

CATIONS = {"K": 1, "Ca": 2, "Mg": 2, "NH4": 1, "Na": 1}
ANIONS = {"NO3": 1, "P": 1, "S": 2, "Cl": 1}
SHOWN = {"P": "H2PO4", "S": "SO4"}

UNIVERSAL = {"K": 35.0, "Ca": 45.0, "Mg": 20.0, "NO3": 60.0, "H2PO4": 5.0, "SO4": 35.0}
UNIVERSAL_SOURCE = "Steiner 1984, The universal nutrient solution"

LEEWAY = 0.1
"""Share of the usual range's end by which a figure may leave it unremarked, our own choice: a range from one or two
published solutions is narrower than what is grown with."""


class Usual(Struct, frozen=True):
    """What is usual: the range over published solutions, where they come from and how that is known."""

    low: float
    high: float
    sources: tuple[str, ...]
    how_known: str


class Ratio(Struct, frozen=True):
    """One figure of a feed.

    `kind`: "n-to-k" g of K per g of N; "k-ca-mg" share of one of the three in their charge [%]; "cations", "anions"
    share of one ion in all of its sign [%].
    """

    kind: str
    about: str
    value: float
    usual: Usual | None = None

    @property
    def within(self) -> bool | None:
        """Whether the figure lies in the usual range; None where none is known."""
        return None if self.usual is None else self.usual.low <= self.value <= self.usual.high

    @property
    def unusual(self) -> bool:
        """Whether the figure lies outside the usual range by more than LEEWAY of its end."""
        if self.usual is None:
            return False
        return not self.usual.low * (1.0 - LEEWAY) <= self.value <= self.usual.high * (1.0 + LEEWAY)


def ratios(totals: Array, alkalinity: float, crop_id: str | None = None) -> tuple[Ratio, ...]:
    """The ratios of a feed.

    Parameters
    ----------
    totals : (n_components,) ndarray [mmol/L]
    alkalinity : float [meq/L], counted among the anions as bicarbonate
    crop_id : a catalog profile, whose crop's published solutions say what is usual

    Returns
    -------
    Figures that can be formed; empty for pure water.
    """
    figures = _figures(totals, alkalinity)
    usual = _usual_of(crop_id)
    return tuple(Ratio(kind, about, value, usual.get((kind, about))) for (kind, about), value in figures.items())


def _figures(totals: Array, alkalinity: float) -> dict[tuple[str, str], float]:
    mmol = {name: float(totals[COLUMN[name]]) for name in (*CATIONS, *ANIONS, "urea")}
    nitrogen = ATOMIC_WEIGHTS["N"] * (mmol["NO3"] + mmol["NH4"] + 2.0 * mmol["urea"])
    figures: dict[tuple[str, str], float] = {}
    if nitrogen > 0.0:
        figures["n-to-k", "K"] = ATOMIC_WEIGHTS["K"] * mmol["K"] / nitrogen
    three = {name: CATIONS[name] * mmol[name] for name in ("K", "Ca", "Mg")}
    figures |= _shares("k-ca-mg", three)
    figures |= _shares("cations", {name: z * mmol[name] for name, z in CATIONS.items()})
    anions = {SHOWN.get(name, name): z * mmol[name] for name, z in ANIONS.items()}
    return figures | _shares("anions", anions | {"HCO3": max(alkalinity, 0.0)})


def _shares(kind: str, meq_per_l: dict[str, float]) -> dict[tuple[str, str], float]:
    total = sum(meq_per_l.values())
    return {(kind, name): 100.0 * meq / total for name, meq in meq_per_l.items() if total > 0.0 and meq > 0.0}


def _usual_of(crop_id: str | None) -> dict[tuple[str, str], Usual]:
    known = [profile for profile in _published(crop_id) if profile.targets]
    gathered: dict[tuple[str, str], list[tuple[float, CropProfile]]] = {}
    for profile in known:
        for key, value in _profile_figures(profile).items():
            gathered.setdefault(key, []).append((value, profile))
    if not gathered:
        return _universal()
    return {key: _range(values) for key, values in gathered.items()}


def _published(crop_id: str | None) -> tuple[CropProfile, ...]:
    if crop_id is None:
        return ()
    return tuple(profile for profile in crops_of(crop(crop_id).crop) if profile.kind == "recipe")


def _universal() -> dict[tuple[str, str], Usual]:
    kinds = {name: ("k-ca-mg" if name in ("K", "Ca", "Mg") else "anions") for name in UNIVERSAL}
    return {(kinds[n], n): Usual(v, v, (UNIVERSAL_SOURCE,), "MEMORY") for n, v in UNIVERSAL.items()}


def _range(values: list[tuple[float, CropProfile]]) -> Usual:
    named = sources()
    titles = dict.fromkeys(
        f"{source.author} {source.year}" if (source := named.get(p.known.source)) is not None else p.known.source
        for _, p in values
    )
    worst = "MEMORY" if any(p.known.how_known == "MEMORY" for _, p in values) else values[0][1].known.how_known
    figures = [value for value, _ in values]
    return Usual(min(figures), max(figures), tuple(titles), worst)


def _profile_figures(profile: CropProfile) -> dict[tuple[str, str], float]:
    """The figures of a published solution from its targets; shares of all ions only where it names every macro."""
    mg = {target.nutrient: target.mg_per_l for target in profile.targets}
    nitrogen = mg.get("N", mg.get("NO3-N", 0.0) + mg.get("NH4-N", 0.0))
    figures: dict[tuple[str, str], float] = {}
    if nitrogen and "K" in mg:
        figures["n-to-k", "K"] = mg["K"] / nitrogen
    if {"K", "Ca", "Mg"} <= mg.keys():
        figures |= _shares("k-ca-mg", {n: CATIONS[n] * mg[n] / ATOMIC_WEIGHTS[n] for n in ("K", "Ca", "Mg")})
    if {"K", "Ca", "Mg", "NO3-N", "P", "S"} <= mg.keys():
        mmol = {n: mg[n] / ATOMIC_WEIGHTS[n] for n in ("K", "Ca", "Mg", "P", "S")}
        nitrate, ammonium = (mg.get(n, 0.0) / ATOMIC_WEIGHTS["N"] for n in ("NO3-N", "NH4-N"))
        figures |= _shares("cations", {n: CATIONS[n] * mmol[n] for n in ("K", "Ca", "Mg")} | {"NH4": ammonium})
        figures |= _shares("anions", {"NO3": nitrate, "H2PO4": mmol["P"], "SO4": 2.0 * mmol["S"]})
    return figures
