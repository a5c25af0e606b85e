"""An invented strawberry grower's recipe and a plan to show: made up to fill a window, checked by nobody."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import structs

from core.plan.records import (
    Amount,
    Caution,
    Cost,
    Feed,
    IonShare,
    NutrientRow,
    Plan,
    Tank,
    TankContent,
    WeighedOn,
)
from core.recipe.records import (
    Aim,
    Batch,
    Limit,
    Recipe,
    Scale,
    ShelfEntry,
    TankSetup,
    Target,
    Water,
    WaterContents,
)

if TYPE_CHECKING:
    from app.session.session import Session

TARGETS = {
    "N": 128, "P": 46, "K": 180, "Ca": 138, "Mg": 38, "Fe": 2.5, "Mn": 0.8, "Zn": 0.3, "B": 0.3, "Cu": 0.1, "Mo": 0.05,
}  # fmt: skip

FLOOR, POCKET = WeighedOn(5000, 1), WeighedOn(200, 0.01)


def sample_recipe() -> Recipe:
    """Return the recipe."""
    shelf = [
        ShelfEntry("nitric-acid", strength_percent=60, price_per_kg=1.2),
        ShelfEntry("calcium-nitrate-greenhouse", price_per_kg=0.9),
        *(ShelfEntry(salt, price_per_kg=1.6) for salt in ("potassium-nitrate", "magnesium-sulfate-heptahydrate")),
        *(
            ShelfEntry(salt)
            for salt in (
                "monopotassium-phosphate", "potassium-sulfate", "iron-dtpa-11", "manganese-sulfate-monohydrate",
                "boric-acid", "zinc-sulfate-heptahydrate", "copper-sulfate-pentahydrate", "sodium-molybdate-dihydrate",
                "potassium-chloride", "ammonium-nitrate", "magnesium-nitrate-hexahydrate", "urea",
            )
        ),
    ]  # fmt: skip
    return Recipe(
        format="saltwright-recipe",
        schema=1,
        title="Tunnel strawberries, first truss",
        currency="EUR",
        aim=Aim(
            targets=tuple(Target(name, float(value)) for name, value in TARGETS.items()),
            limits=(Limit("Na", at_most_mg_per_l=46), Limit("Cl", at_most_mg_per_l=53)),
            crop="strawberry-ohio-state",
        ),
        water=Water("Borehole water, 12 March", WaterContents(ca=39, mg=10.6, na=22, cl=30, s=8, hco3=183), ph=7.4),
        shelf=tuple(shelf),
        tanks=TankSetup(temperature_c=12, coldest_c=5),
        batch=Batch(50, (Scale(5000, 1), Scale(200, 0.01))),
    )


_AMOUNTS: tuple[tuple[str, float, str, dict[str, float], float, WeighedOn], ...] = (
    ("calcium-nitrate-greenhouse", 421.0, "A", {"N": 65.3, "NO3-N": 60.7, "NH4-N": 4.6, "Ca": 80.0}, 2105.0, FLOOR),
    ("potassium-nitrate", 168.4, "A", {"K": 65.1, "N": 23.3, "NO3-N": 23.3}, 842.0, FLOOR),
    ("iron-dtpa-11", 22.7, "A", {"Fe": 2.5, "Na": 1.1}, 114.0, FLOOR),
    ("magnesium-sulfate-heptahydrate", 273.8, "B", {"Mg": 27.0, "S": 35.6}, 1369.0, FLOOR),
    ("monopotassium-phosphate", 202.2, "B", {"P": 46.0, "K": 58.1}, 1011.0, FLOOR),
    ("potassium-sulfate", 122.1, "B", {"K": 54.8, "S": 22.5}, 611.0, FLOOR),
    ("manganese-sulfate-monohydrate", 2.46, "B", {"Mn": 0.8, "S": 0.47}, 12.30, POCKET),
    ("boric-acid", 1.43, "B", {"B": 0.25}, 7.15, POCKET),
    ("zinc-sulfate-heptahydrate", 1.188, "B", {"Zn": 0.27, "S": 0.13}, 5.94, POCKET),
    ("copper-sulfate-pentahydrate", 0.392, "B", {"Cu": 0.0998}, 1.96, POCKET),
    ("sodium-molybdate-dihydrate", 0.126, "B", {"Mo": 0.05, "Na": 0.024}, 0.63, POCKET),
)

_ROWS: tuple[tuple[str, float | None, float | None, float | None, float, float, str], ...] = (
    ("N", 128, 121.6, 134.4, 1.0, 128.0, "met"),
    ("NH4-N", None, None, 12.8, 0.0, 4.6, "fine"),
    ("P", 46, 43.7, 48.3, 0.0, 46.0, "met"),
    ("K", 180, 171, 189, 2.0, 180.1, "met"),
    ("Ca", 138, 131.1, 144.9, 39.0, 119.0, "short"),
    ("Mg", 38, 36.1, 39.9, 10.6, 37.6, "met"),
    ("S", None, None, None, 8.0, 67.8, "fine"),
    ("Fe", 2.5, 2.0, 3.0, 0.0, 2.5, "met"),
    ("Mn", 0.8, 0.64, 0.96, 0.0, 0.8, "met"),
    ("Zn", 0.3, 0.24, 0.36, 0.02, 0.29, "met"),
    ("B", 0.3, 0.24, 0.36, 0.05, 0.3, "met"),
    ("Cu", 0.1, 0.075, 0.125, 0.0, 0.152, "over"),
    ("Mo", 0.05, 0.0375, 0.0625, 0.0, 0.05, "met"),
    ("Na", None, None, 46.0, 22.0, 23.1, "fine"),
    ("Cl", None, None, 53.0, 30.0, 30.0, "fine"),
)

_IONS = (
    ("Ca", 2, 6.89), ("K", 1, 4.61), ("Mg", 2, 3.09), ("Na", 1, 1.0), ("NH4", 1, 0.33),
    ("NO3", -1, 8.81), ("SO4", -2, 4.23), ("H2PO4", -1, 1.49), ("Cl", -1, 0.85), ("HCO3", -1, 0.5),
)  # fmt: skip


def sample_plan() -> Plan:
    """Return a plan that looks like one of this recipe."""
    acid = Amount(
        "nitric-acid", "nitric-acid", 273.0, 0.2, "water", {}, {"N": 36.4, "NO3-N": 36.4}, -2.6, 1.367, 200.0, 1000.0
    )
    amounts = tuple(
        Amount(name, name, mg_per_l, None, tank, {tank: 1.0}, brings, 0.0)
        for name, mg_per_l, tank, brings, _grams, _scale in _AMOUNTS
    )
    feed = Feed(
        mg_per_l={row[0]: row[5] for row in _ROWS},
        ec_ms_per_cm=1.69,
        ec_band_percent=5.0,
        water_ec_ms_per_cm=0.45,
        ph=5.7,
        ph_aired=6.4,
        alkalinity_meq_per_l=0.5,
        charge_error_percent=0.6,
        saturation_index={"gypsum": -1.7},
        ions=tuple(IonShare(*ion) for ion in _IONS),
    )
    return Plan(
        title="Tunnel strawberries, first truss",
        amounts=(acid, *amounts),
        unused=("potassium-chloride", "ammonium-nitrate", "magnesium-nitrate-hexahydrate", "urea"),
        rows=tuple(NutrientRow(*row) for row in _ROWS),  # type: ignore[arg-type]
        feed=feed,
        tanks=(
            _tank("A", "calcium", 0.46, None, "potassium-nitrate"),
            _tank("B", "phosphate", 0.78, 125.0, "potassium-sulfate"),
        ),
        cost=Cost("EUR", 1.94, ("boric-acid",)),
        cautions=_cautions(),
    )


def _tank(name: str, content: str, fullness: float, limit: float | None, first: str) -> Tank:
    contents = tuple(
        TankContent(salt, salt, grams, grams, scale)
        for salt, _mg, tank, _brings, grams, scale in _AMOUNTS
        if tank == name
    )
    return Tank(name, content, 100.0, 50.0, 10.0, contents, "clear", "clear", limit, first, fullness)  # type: ignore[arg-type]


def _cautions() -> tuple[Caution, ...]:
    return (
        Caution(
            "note",
            "water-charge-gap",
            {"which_water": "water", "cations_meq_per_l": 3.26, "anions_meq_per_l": 3.16, "gap_percent": 3.1},
        ),
        Caution("check", "acid-first", {"salts": ["nitric-acid"]}),
        Caution(
            "check",
            "scale-coarse",
            {"weight_g": 0.63, "salt": "sodium-molybdate-dihydrate", "readability_g": 0.01, "percent": 1.6},
        ),
        Caution(
            "stop", "target-short", {"nutrient": "Ca", "feed_mg_per_l": 119, "target_mg_per_l": 138, "percent": 14}
        ),
        Caution("note", "acid-handling", {"salts": ["nitric-acid"]}),
        Caution("note", "price-missing", {"entry_ids": ["boric-acid"]}),
    )


def follow(recipe: Recipe) -> Plan:
    """Return the sample plan bent to a recipe: every target is met exactly, every fixed amount is taken as it is."""
    plan = sample_plan()
    targets = {target.nutrient: target.mg_per_l for target in recipe.aim.targets}
    rows = tuple(_followed(row, targets.get(row.nutrient)) for row in plan.rows)
    exact = {entry.key: entry.exactly_mg_per_l for entry in recipe.shelf if entry.exactly_mg_per_l is not None}
    known = {amount.entry_id: amount for amount in plan.amounts}
    added = [Amount(name, name, exact[name], None, "B", {"B": 1.0}, {}, 0.0) for name in exact if name not in known]
    amounts = [
        structs.replace(amount, mg_per_l=exact.get(amount.entry_id, amount.mg_per_l), fixed=amount.entry_id in exact)
        for amount in plan.amounts
    ]
    return structs.replace(plan, title=recipe.title, rows=rows, amounts=(*amounts, *added))


def _followed(row: NutrientRow, target: float | None) -> NutrientRow:
    if target is None:
        return structs.replace(row, target_mg_per_l=None, low_mg_per_l=None, high_mg_per_l=None, verdict="fine")
    return structs.replace(
        row,
        target_mg_per_l=target,
        low_mg_per_l=0.95 * target,
        high_mg_per_l=1.05 * target,
        feed_mg_per_l=target,
        verdict="met",
    )


def want_potassium(session: Session, mg_per_l: float) -> None:
    """Push an edit: another target of potassium."""
    from app.session import changes

    assert session.recipe is not None
    session.push("target", ("aim", "K"), changes.with_target(session.recipe, "K", mg_per_l))
