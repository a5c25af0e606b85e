"""Who holds the iron: balances kept for any feed, limits, order of strength."""

from __future__ import annotations

import numpy as np
import pytest

from core.chemistry import COMPONENTS, speciate
from core.chemistry.chelation import (
    HYDROXIDES,
    METALS,
    SYNTHETIC,
    Hydroxide,
    conditions,
    iron_chelation,
    iron_surely_held,
)
from core.chemistry.ligand_balance import LigandBalance
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, RARE_MMOL_PER_KG, TOMATO, column, random_feeds

METAL_ROWS = [COMPONENTS.index(name) for name in METALS]
LIGAND_ROWS = [COMPONENTS.index(name) for name in SYNTHETIC]


def chelated(mmol_per_kg: dict[str, float], ph: float, hydroxide: Hydroxide = "fresh") -> float:
    return float(iron_chelation(speciate(column(TOMATO | mmol_per_kg), 25.0, ph=ph), hydroxide).iron_chelated[0])


@pytest.mark.parametrize("hydroxide", HYDROXIDES)
def test_balances_of_random_feeds(hydroxide: Hydroxide) -> None:
    """No ligand and no metal is handed out beyond what there is; iron is chelated, dissolved or settled."""
    totals = random_feeds(7, 400, MOST_MMOL_PER_KG | RARE_MMOL_PER_KG, present=0.6)
    found = iron_chelation(speciate(totals, 25.0, ph=np.random.default_rng(7).uniform(4.0, 9.0, 400)), hydroxide)
    assert np.isfinite(found.held).all()
    assert (found.held >= 0.0).all()
    assert (found.held.sum(axis=1) <= totals[METAL_ROWS] * (1 + 1e-7) + 1e-15).all()
    assert (found.held.sum(axis=0) <= totals[LIGAND_ROWS] * (1 + 1e-7) + 1e-15).all()
    iron = totals[METAL_ROWS[0]] > 0.0
    assert (found.iron_settled[iron] >= 0.0).all()
    assert (found.iron_chelated[iron] + found.iron_settled[iron] <= 1.0 + 1e-7).all()
    assert np.isnan(found.iron_chelated[~iron]).all()


def test_a_ligand_is_wholly_used_where_metals_abound() -> None:
    """Calcium alone, 5 mmol/kg, holds all EDTA at pH 8 but for a millionth."""
    found = iron_chelation(speciate(column({"Ca": 5.0, "Cl": 10.0, "EDTA": 0.05}), 25.0, ph=8.0))
    assert found.held[METALS.index("Ca"), SYNTHETIC.index("EDTA"), 0] == pytest.approx(5e-5, rel=1e-3)


def test_iron_without_a_ligand_settles() -> None:
    found = iron_chelation(speciate(column(TOMATO | {"Fe3": 0.025}), 25.0, ph=6.5))
    assert found.iron_chelated[0] == 0.0
    assert found.iron_settled[0] > 0.9
    acid = iron_chelation(speciate(column(TOMATO | {"Fe3": 0.025}), 25.0, ph=3.0))
    assert acid.iron_settled[0] == 0.0


def test_the_stronger_the_ligand_the_more_iron_it_keeps() -> None:
    traces = {"Zn": 0.005, "Cu": 0.001, "Mn": 0.01, "Fe3": 0.025}
    kept = [chelated(traces | {ligand: 0.025}, 7.5) for ligand in ("EDTA", "DTPA", "EDDHA", "HBED")]
    assert kept == sorted(kept)
    assert kept[0] < 0.5 < 0.7 < kept[1] < 0.95 < kept[2]


def test_every_competitor_costs_iron() -> None:
    """Zinc at pH 7, copper at pH 6.5, calcium at pH 8 push iron from EDTA; aged hydroxide takes more than fresh."""
    iron = {"Fe3": 0.025, "EDTA": 0.025}
    assert chelated(iron, 7.0) - chelated(iron | {"Zn": 0.01}, 7.0) > 0.15
    assert chelated(iron, 6.5) - chelated(iron | {"Cu": 0.01}, 6.5) > 0.25
    assert chelated(iron | {"Ca": 0.5}, 8.0) > chelated(iron | {"Ca": 8.0}, 8.0) + 0.1
    assert chelated(iron, 7.0, "ferrihydrite") < chelated(iron, 7.0)


def test_spare_ligand_keeps_iron() -> None:
    assert chelated({"Fe3": 0.025, "EDTA": 0.05}, 7.5) > chelated({"Fe3": 0.025, "EDTA": 0.025}, 7.5)


def test_two_ligands_share_by_strength() -> None:
    found = iron_chelation(speciate(column(TOMATO | {"Fe3": 0.02, "EDTA": 0.02, "EDDHA": 0.01}), 25.0, ph=6.0))
    held = dict(zip(SYNTHETIC, found.held[0, :, 0], strict=True))
    assert held["EDDHA"] == pytest.approx(1e-5, rel=0.01)
    assert held["EDTA"] == pytest.approx(1e-5, rel=0.05)


def test_balance_with_a_known_answer() -> None:
    """One ligand, one metal: K = ML / (M L), M + ML = 1, L + ML = 1 gives ML = 1/2 at K = 2."""
    balance = LigandBalance([1.0], [1.0], [[2.0]], np.array([1.0]), np.array([1.0]))
    assert np.exp(balance.solved()) == pytest.approx([0.5])


@pytest.mark.parametrize("ligand", SYNTHETIC)
@pytest.mark.parametrize("mmol_per_kg", [1e-12, 1e-9, 1e-6, 1e-3, 1.0])
def test_from_a_trace_to_plenty(ligand: str, mmol_per_kg: float) -> None:
    """Ligands and iron far apart in amount, from pH 2 to 12: always an answer, never more than there is."""
    totals = column(TOMATO | {"Fe3": 0.02, "Cu": 0.001, "Zn": 0.01, "Mn": 0.01, ligand: mmol_per_kg})
    ph = np.array([2.0, 5.0, 6.8, 9.0, 12.0])
    found = iron_chelation(speciate(np.repeat(totals[:, None], len(ph), axis=1), 25.0, ph=ph))
    held = found.held[:, SYNTHETIC.index(ligand)].sum(axis=0)
    assert (held <= mmol_per_kg * 1e-3 * (1 + 1e-7)).all()
    assert held[2] > 0.3 * min(mmol_per_kg, 0.04) * 1e-3


def test_cases_of_one_feed_are_as_each_by_itself() -> None:
    """The feed's own ions rule all of them: too much iron, hardly any, another ligand, none."""
    feed = speciate(column(TOMATO | {"Zn": 0.005, "Cu": 0.001, "Mn": 0.01, "EDTA": 0.02}), 25.0, ph=6.8)
    cases = np.repeat(feed.totals_mol_per_kg, 4, axis=1)
    iron, edta, dtpa = (COMPONENTS.index(name) for name in ("Fe3", "EDTA", "DTPA"))
    cases[iron] = 5e-5, 1e-7, 3e-5, 2e-5
    cases[dtpa, 2], cases[edta, 3] = 1e-5, 0.0
    together = iron_chelation(feed, totals_mol_per_kg=cases)
    for place in range(4):
        alone = iron_chelation(feed, totals_mol_per_kg=cases[:, place : place + 1])
        np.testing.assert_array_equal(together.held[..., place], alone.held[..., 0])
        assert together.iron_settled[place] == alone.iron_settled[0]
    assert together.iron_settled[0] > 0.0
    assert together.iron_settled[1] == 0.0
    assert together.held[:, SYNTHETIC.index("EDTA"), 3].sum() == 0.0


@pytest.mark.parametrize("ligand", SYNTHETIC)
@pytest.mark.parametrize("hydroxide", HYDROXIDES)
def test_no_more_iron_is_surely_held_than_is_held(ligand: str, hydroxide: Hydroxide) -> None:
    """From short of ligand to plenty of it, with and without competitors, pH 4 to 9; not far off where it is easy."""
    rng, least, truth = np.random.default_rng(5), [], []
    for ph in np.linspace(4.0, 9.0, 11):
        feed = speciate(column(TOMATO | {"Zn": 0.005, "Cu": 0.001, "Mn": 0.01, ligand: 0.03}), 25.0, ph=ph)
        cases = np.repeat(feed.totals_mol_per_kg, 12, axis=1)
        for name in ("Fe3", "Cu", "Zn", "Mn", *SYNTHETIC):
            cases[COMPONENTS.index(name)] = rng.choice((0.0, 1e-6, 1e-5, 4e-5, 1e-4), 12)
        cases[COMPONENTS.index("Fe3")] += 1e-6
        least += iron_surely_held(conditions(feed, hydroxide), cases)
        truth += iron_chelation(feed, hydroxide, cases).held[0].sum(axis=0).tolist()
    assert (np.array(least) <= np.array(truth) * (1 + 1e-7) + 1e-15).all()
    easy = speciate(column(TOMATO | {"Fe3": 0.02, "EDDHA": 0.03}), 25.0, ph=6.0)
    assert iron_surely_held(conditions(easy), easy.totals_mol_per_kg)[0] > 0.98 * 2e-5
