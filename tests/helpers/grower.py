"""An invented grower whose reservoir is real: salts by weight in water by volume, read with a meter of its own.

The truth is kept as milligrams of each product and litres of water, and what the meter shows comes from a whole plan
of a recipe with just these amounts. What she writes down is what she believes.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from msgspec import structs

from core.bench.meter import uncompensated_ms_per_cm
from core.logbook.records import Entry, Logbook, MadeBatch, Reservoir, Weighed
from core.plan import plan
from core.plan.records import Tank
from core.recipe.records import Recipe, WaterContents

NOISE = 0.02


@dataclass
class Faults:
    """What is otherwise than she believes, from the second filling on."""

    weights: dict[str, float] = field(default_factory=dict)
    tanks: dict[str, float] = field(default_factory=dict)
    pours: Callable[[dict[str, float]], dict[str, float]] = dict
    volume: float = 1.0
    water: float = 1.0
    acid: float = 1.0
    meter: float = 1.0
    compensated: bool = True


class Grower:
    """Mixes batch 1 rightly, fills, tops up, mixes batch 2, fills again; the faults begin with batch 2."""

    def __init__(self, recipe: Recipe, seed: int, faults: Faults, *, appetite: float = 0.8) -> None:
        self.dice = random.Random(seed)
        self.recipe, self.faults, self.appetite = recipe, replace(faults), appetite
        self.plan = plan(recipe)
        self.acid_ml_per_l = {a.entry_id: a.ml_per_l for a in self.plan.amounts if a.tank == "water" and a.ml_per_l}
        self.acid_mg_per_ml = {
            a.entry_id: a.mg_per_l / a.ml_per_l for a in self.plan.amounts if a.entry_id in self.acid_ml_per_l
        }
        self.wrong = False
        self.mg: dict[str, float] = {}
        self.volume_l = self.water_l = 0.0
        self.entries: list[Entry] = []
        self.day, self.minute, self.day_over = 1, -10, False

    def about(self, spread: float = NOISE) -> float:
        return max(0.5, self.dice.gauss(1.0, spread))

    def fill(self, batch_id: str, litres: float = 300.0, *, careful: bool = False) -> None:
        """Empty, fill and dose at full strength; careful, with a reading of the water and of each part."""
        faults = self.faults if self.wrong else Faults()
        self.mg, self.volume_l, self.water_l = {}, 0.0, 0.0
        self.day_over = bool(self.entries)
        each_ml = 1000.0 / self.recipe.tanks.ratio * litres
        written = {tank.name: each_ml for tank in self.plan.tanks}
        if not careful:
            self._pour(batch_id, litres, written, fresh=True, volume=faults.volume)
            return
        water_l = litres - sum(written.values()) / 1000.0
        self._pour(batch_id, water_l, {}, fresh=True, volume=faults.volume)
        really = faults.pours(written)
        for tank, millilitres in written.items():
            self._pour(batch_id, millilitres / 1000.0, {tank: millilitres}, fresh=False, volume=1.0, really=really)

    def top_up(self, batch_id: str, litres: float) -> None:
        each_ml = 1000.0 / self.recipe.tanks.ratio * litres
        written = {tank.name: each_ml for tank in self.plan.tanks}
        self._pour(batch_id, litres, written, fresh=False, volume=1.0)

    def _pour(
        self,
        batch_id: str,
        litres: float,
        written: dict[str, float],
        *,
        fresh: bool,
        volume: float,
        really: dict[str, float] | None = None,
    ) -> None:
        """Pour water and parts that make so many litres together."""
        faults = self.faults if self.wrong else Faults()
        if really is None:
            really = faults.pours(written) if fresh else dict(written)
            poured = really
        else:
            poured = {name: really.get(name, 0.0) for name in written}
        for tank in self.plan.tanks:
            self._pour_part(batch_id, tank, poured.get(tank.name, 0.0) * self.about(0.01))
        water_l = litres - sum(written.values()) / 1000.0
        acid = {name: ml * litres for name, ml in self.acid_ml_per_l.items()} if water_l > 0.5 else {}
        for name, ml in acid.items():
            self._put(name, ml * self.acid_mg_per_ml[name] * (faults.acid if fresh else 1.0))
        self.volume_l += litres * volume
        self.water_l += litres * volume * faults.water
        self._write(
            fresh=fresh, water_l=water_l if water_l > 0.01 else None, parts_ml=written, acid_ml=acid,
            batch_id=batch_id if written or acid else "",
        )  # fmt: skip

    def _pour_part(self, batch_id: str, tank: Tank, millilitres: float) -> None:
        """A part of batch 2 is as its faults have it."""
        faults = self.faults if batch_id == "2" else Faults()
        for content in tank.contents:
            grams = content.grams * faults.weights.get(content.entry_id, 1.0) * faults.tanks.get(tank.name, 1.0)
            self._put(content.entry_id, grams / tank.volume_l * millilitres)

    def _put(self, entry_id: str, mg: float) -> None:
        self.mg[entry_id] = self.mg.get(entry_id, 0.0) + mg

    def live(self, used_l: float) -> None:
        """A day: the crop takes water, and salts with it."""
        self.day_over = True
        left = 1.0 - self.appetite * used_l / self.volume_l
        self.mg = {name: mg * left for name, mg in self.mg.items()}
        self.water_l *= left
        self.volume_l -= used_l
        self._write(level=True)

    def _write(self, *, level: bool = False, **written) -> None:
        ec, ph = self.truth()
        faults = self.faults if self.wrong else Faults()
        temperature = round(self.dice.uniform(11, 24), 1)
        shown = ec * faults.meter * self.about()
        if not faults.compensated:
            shown = uncompensated_ms_per_cm(shown, temperature)
        self.entries.append(
            Entry(
                self._now(),
                level_l=round(self.volume_l * self.about(0.005), 1) if level else None,
                ec_ms_per_cm=round(shown, 2),
                ph=None if ph is None else round(ph + self.dice.gauss(0.0, 0.1), 1),
                temperature_c=temperature,
                **written,
            )
        )

    def _now(self) -> str:
        """A day for every use of water; what is poured is poured within an hour."""
        self.minute = 0 if self.day_over else self.minute + 10
        self.day += self.day_over
        self.day_over = False
        return f"2026-03-{self.day:02d}T08:{self.minute:02d}"

    def truth(self) -> tuple[float, float | None]:
        """EC and pH of what is really there."""
        share = self.water_l / self.volume_l
        report = dict(self.recipe.water.mg_per_l.items())
        fields = dict(zip(WaterContents.__struct_encode_fields__, WaterContents.__struct_fields__, strict=True))
        water = WaterContents(**{fields[name]: share * value for name, value in report.items()})
        shelf = tuple(
            structs.replace(one, exactly_mg_per_l=self.mg.get(one.key, 0.0) / self.volume_l, at_most_mg_per_l=None,
                            at_least_mg_per_l=None)
            for one in self.recipe.shelf
        )  # fmt: skip
        aim = structs.replace(self.recipe.aim, targets=(), limits=(), ec_ms_per_cm=None, ph=None)
        made = plan(
            structs.replace(
                self.recipe,
                shelf=shelf,
                aim=aim,
                water=structs.replace(self.recipe.water, mg_per_l=water),
                goal="closest",
                tanks=structs.replace(self.recipe.tanks, count=1, pins={}),
            )
        )
        assert made.feed.ec_ms_per_cm is not None
        ph = None if made.feed.ph is None or made.feed.ph_aired is None else (made.feed.ph + made.feed.ph_aired) / 2
        return made.feed.ec_ms_per_cm, ph

    def season(self, *, careful: bool = False) -> Logbook:
        """Four fillings, the second with all that is wrong; batch 2 serves twice, then a new one is mixed."""
        for number, batch_id in enumerate("1223"):
            self.wrong = number > 0
            if number == 2:
                self.faults.pours, self.faults.volume = dict, 1.0  # what went wrong once
            self.fill(batch_id, careful=careful)
            self.live(25.0)
        return self.diary()

    def first_days(self, *, careful: bool = False) -> Logbook:
        """The same, as the diary stands right after the first reading that is wrong."""
        self.fill("1", careful=careful)
        self.live(15.0)
        self.live(15.0)
        self.wrong = True
        self.fill("2", careful=careful)
        return self.diary()

    def diary(self) -> Logbook:
        weighed = tuple(
            Weighed(tank.name, one.entry_id, one.grams, one.grams) for tank in self.plan.tanks for one in tank.contents
        )
        batches = tuple(MadeBatch(name, "2026-03-01", self.recipe, weighed=weighed) for name in "123")
        return Logbook(batches=batches, reservoirs=(Reservoir("Tunnel 1", 310.0, entries=tuple(self.entries)),))
