"""An invented strawberry grower's fortnight: made up to fill a window, checked by nobody."""

from __future__ import annotations

from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir, Weighed
from core.plan import plan
from core.recipe.records import Recipe

FORTNIGHT = (
    # day, time, level, EC, pH, temperature, water, each part, note
    ("01", "08:10", 298, 1.68, 5.7, 14.5, 282, 2900, "first filling"),
    ("02", "08:05", 281, 1.71, 5.9, 15.0, None, None, ""),
    ("03", "08:20", 297, 1.66, 5.9, 15.5, 33, 160, ""),
    ("04", "08:00", 276, 1.70, 6.1, 16.0, None, None, "hot afternoon"),
    ("05", "08:15", 299, 1.64, 6.0, 16.5, 42, 210, ""),
    ("06", "08:10", 279, 1.67, 6.1, 15.0, None, None, ""),
    ("07", "08:30", 295, 1.63, 6.1, 14.0, 36, 170, "sample to the laboratory"),
    ("08", "08:05", 280, 1.66, 6.2, 14.5, None, None, ""),
    ("09", "08:10", 297, 1.62, 6.0, 15.0, 31, 150, "new batch"),
    ("10", "08:00", 300, 1.29, 6.2, 15.5, 285, 2900, "filled anew, reads low"),
    ("11", "08:10", 284, 1.31, 6.3, 16.0, None, None, ""),
    ("12", "08:15", 299, 1.29, 6.3, 16.5, 31, 150, ""),
)
REPORTS = {
    "01": {"NO3-N": 121.0, "NH4-N": 4.6, "P": 45.0, "K": 181.0, "Ca": 118.0, "Mg": 37.0, "S": 67.0, "Na": 24.0},
    "07": {"NO3-N": 92.0, "NH4-N": 0.6, "P": 38.0, "K": 150.0, "Ca": 131.0, "Mg": 42.0, "S": 79.0, "Na": 29.0},
}


def sample_logbook(recipe: Recipe) -> Logbook:
    """Return two batches of a recipe and two reservoirs, one of them with a diary."""
    planned = plan(recipe)
    weighed = tuple(
        Weighed(tank.name, one.entry_id, one.grams_to_weigh, one.grams_to_weigh)
        for tank in planned.tanks
        for one in tank.contents
    )
    batches = (
        MadeBatch("2026-02-27-1", "2026-02-27", recipe, "3f2a", weighed),
        MadeBatch("2026-03-09-1", "2026-03-09", recipe, "3f2a", weighed, note="mixed in a hurry"),
    )
    acid = {one.entry_id: one.ml_per_l for one in planned.amounts if one.tank == "water" and one.ml_per_l}
    entries = tuple(_entry(line, acid, [tank.name for tank in planned.tanks]) for line in FORTNIGHT)
    return Logbook(
        title="Coast tunnels",
        batches=batches,
        reservoirs=(Reservoir("Tunnel 1", 300, entries=entries), Reservoir("Propagation bench", 60)),
    )


def _entry(line: tuple, acid: dict[str, float], letters: list[str]) -> Entry:
    day, time, level, ec, ph, temperature, water, each, note = line
    fresh = day in ("01", "10")
    return Entry(
        f"2026-03-{day}T{time}",
        fresh=fresh,
        water_l=water,
        batch_id="" if each is None else "2026-03-09-1" if day >= "10" else "2026-02-27-1",
        parts_ml={} if each is None else dict.fromkeys(letters, float(each)),
        acid_ml={} if each is None else {name: round(ml * (water or 0)) for name, ml in acid.items()},
        level_l=level,
        ec_ms_per_cm=ec,
        ph=ph,
        temperature_c=temperature,
        analysis_mg_per_l=REPORTS.get(day, {}),
        hco3_mg_per_l=30.0 if day in REPORTS else None,
        note=note,
    )
