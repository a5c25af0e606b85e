"""The band of a nutrient holds 19 batches of 20, drawn as it assumes: bags at the law's limit, at their label, between.

The draws go the long way: every weight and every volume is off by its own draw, and the feed is made from them anew.
"""

from __future__ import annotations

import numpy as np
import pytest

from app.session.demo import demo_recipe
from core.bench.error_band import (
    SIGMAS,
    VOLUME_PERCENT,
    Part,
    error_band,
    label_shortfall_percent,
    weighing_percent,
)
from core.blend.nutrients import ROW
from core.blend.shelf import source_of
from core.logbook.progress import Progress
from core.logbook.reckoning import parts_of
from core.logbook.worklist import worklist
from core.plan import derive, solve
from core.recipe.records import NUTRIENTS, LabelPercent, ShelfEntry

DRAWS = 20_000
COVERAGE = (0.93, 0.97)


@pytest.fixture(scope="module")
def batch() -> tuple[object, np.ndarray, dict[str, list[Part]]]:
    recipe = demo_recipe()
    blend = solve(recipe)
    plan = derive(recipe, blend)
    items = worklist(blend, plan)
    laws = (None, "us", "virginia", "eu-2003")
    parts = {str(law): parts_of(blend, plan, items, Progress(), law) for law in laws}
    feed = blend.water_mg_per_l + sum(part.brings_mg_per_l for part in parts["None"])  # with the weights as rounded
    return blend, feed, parts


def draws(parts: list[Part], water: np.ndarray, short: str) -> np.ndarray:
    """Feeds of many batches, (n_draws, n_nutrients)."""
    chance = np.random.default_rng(2026)
    tanks = sorted({part.tank for part in parts})
    volumes = {t: 1 + VOLUME_PERCENT / 100 / SIGMAS * chance.standard_normal(DRAWS) * (t != "") for t in tanks}
    feed = np.tile(water, (DRAWS, 1))
    for part in parts:
        weight = 1 + part.weighing_percent / 100 / SIGMAS * chance.standard_normal(DRAWS)
        lacks = {"limit": 1.0, "label": 0.0}.get(short, chance.uniform(0, 1, DRAWS)[:, None])
        content = part.brings_mg_per_l * (1 - lacks * np.nan_to_num(part.short_percent) / 100)
        feed += content * (weight / volumes[part.tank])[:, None]
    return feed


@pytest.mark.parametrize("law", ["None", "us", "virginia", "eu-2003"])
def test_19_batches_of_20_lie_in_the_band(batch, law: str) -> None:
    blend, feed, parts = batch
    band = error_band(parts[law], feed)
    some = np.flatnonzero(band.high_mg_per_l > band.low_mg_per_l * (1 + 1e-9))
    assert {"N", "P", "K", "Ca", "Mg", "S", "Fe", "Mo"} <= {NUTRIENTS[row] for row in some}
    for short in ("limit", "label", "between"):
        made = draws(parts[law], blend.water_mg_per_l, short)
        within = ((made >= band.low_mg_per_l) & (made <= band.high_mg_per_l)).mean(axis=0)[some]
        if short == "between" and law != "None":
            assert within.min() >= COVERAGE[0]  # never less; more, as such bags stay away from the limit
        else:
            assert within.min() >= COVERAGE[0], (short, NUTRIENTS[some[within.argmin()]])
            assert within.max() <= COVERAGE[1], (short, NUTRIENTS[some[within.argmax()]])


def test_the_band_is_one_sided_where_the_law_is(batch) -> None:
    _blend, feed, parts = batch
    band, bare = error_band(parts["us"], feed), error_band(parts["None"], feed)
    n = ROW["N"]
    assert bare.high_mg_per_l[n] - feed[n] == pytest.approx(feed[n] - bare.low_mg_per_l[n])
    assert band.high_mg_per_l[n] - feed[n] < 0.2 * (feed[n] - band.low_mg_per_l[n])
    assert bare.label_mg_per_l[n] == 0.0


def test_what_each_part_makes() -> None:
    brings = np.zeros(len(NUTRIENTS))
    brings[ROW["K"]] = 100.0
    short = np.full(len(NUTRIENTS), 4.0)
    feed = brings.copy()
    band = error_band([Part("A", brings, short, 3.0)], feed)
    k = ROW["K"]
    assert band.label_mg_per_l[k] == pytest.approx(4.0)
    assert band.weighing_mg_per_l[k] == pytest.approx(3.0)
    assert band.volume_mg_per_l[k] == pytest.approx(1.0)
    scatter = np.hypot(3.0, 1.0) / SIGMAS
    assert band.low_mg_per_l[k] == pytest.approx(100 - 4 - 1.645 * scatter, abs=0.01)
    assert band.high_mg_per_l[k] == pytest.approx(100 + 1.645 * scatter, abs=0.01)


def test_without_slack_it_is_two_sided() -> None:
    brings = np.zeros(len(NUTRIENTS))
    brings[ROW["K"]] = 100.0
    band = error_band([Part("", brings, np.zeros(len(NUTRIENTS)), 3.0)], brings)
    assert band.high_mg_per_l[ROW["K"]] == pytest.approx(103.0, abs=1e-3)
    assert band.low_mg_per_l[ROW["K"]] == pytest.approx(97.0, abs=1e-3)


def test_nothing_weighed_is_no_band() -> None:
    feed = np.full(len(NUTRIENTS), 5.0)
    band = error_band([], feed)
    assert np.array_equal(band.low_mg_per_l, feed)
    assert np.array_equal(band.high_mg_per_l, feed)


def test_a_label_is_taken_by_the_name_it_is_printed_under() -> None:
    salt = source_of(ShelfEntry("calcium-nitrate-greenhouse"))
    short = label_shortfall_percent(salt, "us")
    assert short[ROW["N"]] == pytest.approx(100 * 0.66 / 15.5, rel=1e-6)
    assert short[ROW["NO3-N"]] == short[ROW["N"]]
    assert short[ROW["Ca"]] == pytest.approx(100 / 19.0, rel=1e-6)
    kno3 = source_of(ShelfEntry("potassium-nitrate", label_percent=LabelPercent(n=13.0, k2o=46.0)))
    assert label_shortfall_percent(kno3, "us")[ROW["K"]] == pytest.approx(100 * 1.44 / 46.0, rel=1e-6)


def test_acids_and_no_law_have_no_slack_and_the_unread_is_said() -> None:
    acid, iron = source_of(ShelfEntry("nitric-acid")), source_of(ShelfEntry("iron-dtpa-11"))
    assert not label_shortfall_percent(acid, "us").any()
    assert not label_shortfall_percent(iron, None).any()
    assert np.isnan(label_shortfall_percent(iron, "virginia")[ROW["Fe"]])
    brings = iron.brings * 20
    band = error_band([Part("A", brings, label_shortfall_percent(iron, "virginia"), 1.0)], brings)
    assert band.unlimited[ROW["Fe"]]


def test_a_weight_s_own_error() -> None:
    assert weighing_percent(100.0, 1.0) == 1.0
    assert weighing_percent(100.0, 1.0, goes=4) == 2.0
    assert weighing_percent(100.0, None) == 0.0
