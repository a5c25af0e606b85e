"""Many solutions at once: the equations they share, the pieces they are cut into, temperatures of their own."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.chemistry import (
    AIR_CO2_ATM,
    COMPONENTS,
    OutOfRange,
    conductivity_by_ion,
    conductivity_ms_per_cm,
    equilibrium,
    saturation_indices,
    speciate,
)
from core.chemistry.balances import FEW, FEW_SYSTEMS, Balances, eliminated
from core.chemistry.batch import Batch, Climate, climate_of
from core.chemistry.equilibrium import AT_ONCE
from core.chemistry.layout import Layout, layout
from core.chemistry.species import all_species
from core.chemistry.system import DOUBLE, SINGLE, System, compile_system, constants_at
from tests.core.chemistry.feeds import MOST_MMOL_PER_KG, RARE_MMOL_PER_KG, TOMATO, column, random_feeds

ALL = MOST_MMOL_PER_KG | RARE_MMOL_PER_KG
CONTAINS = np.array([[one.contains.get(total, 0) for one in all_species()] for total in COMPONENTS])


def asked(seed: int, names: set[str], ph_known: bool) -> tuple[System, Layout, Climate, Batch, np.ndarray]:
    """Balances of four random feeds, somewhere near their equilibrium."""
    rng = np.random.default_rng(seed)
    system = compile_system(frozenset(names), False)
    told = layout(system, ph_known)
    groups = rng.uniform(1e-5, 5e-3, (len(told.groups), 4))
    lone = told.lone_sums @ rng.uniform(1e-5, 5e-3, (len(told.lone), 4))
    ligands = rng.uniform(1e-5, 5e-3, (told.ligands, 4))
    alkalinity = None if ph_known else rng.uniform(-1e-3, 3e-3, 4)
    unknowns = np.vstack([rng.uniform(-20.0, -7.0, (told.ligands, 4)), [[-4.0] * 4], rng.uniform(-18.0, -9.0, (1, 4))])
    return (
        system,
        told,
        climate_of(told, constants_at(system, 25.0)),
        Batch(groups, ligands, lone, alkalinity, None),
        unknowns,
    )


@settings(max_examples=20)
@given(seed=st.integers(0, 10**6), names=st.sets(st.sampled_from(sorted(MOST_MMOL_PER_KG))), ph_known=st.booleans())
def test_slopes_are_those_of_the_errors(seed: int, names: set[str], ph_known: bool) -> None:
    """Against differences over 2e-5 in each unknown: these are good to about 1e-8."""
    _, told, climate, known, unknowns = asked(seed, names, ph_known)
    balances = Balances(told, DOUBLE)
    molality, slope, sums = balances.at(unknowns, known, climate)
    slopes = balances.slopes(molality, slope, sums, known).copy()
    for place in range(told.unknowns):
        errors = []
        for step in (-1e-5, 1e-5):
            moved = unknowns.copy()
            moved[place] += step
            errors.append(balances.errors(moved, balances.at(moved, known, climate)[2], known))
        np.testing.assert_allclose(slopes[:, place], (errors[1] - errors[0]) / 2e-5, rtol=1e-5, atol=1e-7)


@settings(max_examples=20)
@given(seed=st.integers(0, 10**6), names=st.sets(st.sampled_from(sorted(MOST_MMOL_PER_KG))), ph_known=st.booleans())
def test_every_species_counts_once_by_its_own_law(seed: int, names: set[str], ph_known: bool) -> None:
    """ln m = ln K + stoichiometry x unknowns - ln gamma + ln of its group's free amount, groups adding up."""
    system, told, climate, known, unknowns = asked(seed, names, ph_known)
    np.testing.assert_array_equal(np.sort(np.concatenate([told.species, told.lone])), np.arange(len(system.species)))
    ln_gamma, _ = climate.ln_gamma(np.exp(unknowns[-2]))
    stoich = system.stoich[told.species].copy()
    stoich[:, -2] = 0.0
    law = constants_at(system, 25.0).ln_k[told.species] + stoich @ unknowns - ln_gamma[told.class_of - len(told.powers)]
    for precision, digits in ((DOUBLE, 1e-9), (SINGLE, 1e-4)):
        balances = Balances(told, precision)
        forms = balances.forms(unknowns.astype(precision), ln_gamma.astype(precision), climate.to(precision))
        np.testing.assert_allclose(np.log(forms), law, atol=digits * 10.0)
        balances.share_out(forms, known.groups.astype(precision))
        for block, total in zip(told.blocks, known.groups, strict=True):
            np.testing.assert_allclose(forms[block].sum(axis=0), total, rtol=digits)


@settings(max_examples=20)
@given(seed=st.integers(0, 10**6), size=st.integers(1, 8), count=st.sampled_from([1, FEW_SYSTEMS - 1, FEW_SYSTEMS, 40]))
def test_elimination(seed: int, size: int, count: int) -> None:
    """Against LAPACK, which exchanges rows, on matrices ruled by their diagonal."""
    rng = np.random.default_rng(seed)
    matrix = rng.uniform(-1.0, 1.0, (size, size, count)) + size * np.eye(size)[:, :, None]
    right = rng.uniform(-1.0, 1.0, (size, count))
    wanted = np.linalg.solve(matrix.transpose(2, 0, 1), right.T[:, :, None])[:, :, 0].T
    np.testing.assert_allclose(eliminated(matrix, right), wanted, rtol=1e-10, atol=1e-12)


@pytest.mark.parametrize("ph_known", [True, False])
def test_few_and_many_are_summed_alike(ph_known: bool) -> None:
    """The large products for a few solutions, and the sums that leave out zeros for many, have the same slopes."""
    _, told, climate, known, unknowns = asked(1, set(MOST_MMOL_PER_KG), ph_known)
    balances = Balances(told, DOUBLE)
    alone = balances.slopes(*balances.at(unknowns, known, climate), known).copy()
    often = np.tile(np.arange(4), FEW)
    many = known.take(often)
    together = balances.slopes(*balances.at(unknowns.take(often, axis=1), many, climate), many)
    np.testing.assert_allclose(together, alone[:, :, often], rtol=1e-10, atol=1e-12)


def test_threads_do_not_meet() -> None:
    """The arrays that are used over and over belong to one thread each."""
    totals = random_feeds(9, 200, ALL)
    with ThreadPoolExecutor(2) as pool:
        both = list(pool.map(lambda ph: speciate(totals, 25.0, ph=ph).molality, [5.0, 7.0] * 4))
    for ph, found in zip([5.0, 7.0] * 4, both, strict=True):
        np.testing.assert_array_equal(found, speciate(totals, 25.0, ph=ph).molality)


def test_ten_thousand_feeds_arrive() -> None:
    """Chelates, citrate and all, pH 4 to 8, pH then computed; mass and alkalinity to 1e-9."""
    totals = random_feeds(10, 10_000, ALL, present=0.7)
    rng = np.random.default_rng(10)
    ph, temperature_c = rng.uniform(4.0, 8.0, 10_000), rng.uniform(15.0, 30.0, 10_000)
    found = speciate(totals, temperature_c, ph=ph)
    back = speciate(totals, temperature_c, alkalinity_eq_per_kg=found.alkalinity_eq_per_kg)
    for one in (found, back):
        assert np.isfinite(one.molality).all()
        np.testing.assert_allclose(CONTAINS @ one.molality, totals, rtol=1e-9, atol=1e-18)
    np.testing.assert_allclose(back.ph, ph, atol=1e-7)
    assert np.isfinite(conductivity_ms_per_cm(found, temperature_c)).all()


@pytest.mark.parametrize("count", [4, 13, 29, 150])
def test_pieces_do_not_show(monkeypatch: pytest.MonkeyPatch, count: int) -> None:
    totals = random_feeds(5, count, ALL, present=0.6)
    gas = np.where(np.arange(count) % 3 == 0, np.nan, AIR_CO2_ATM)
    whole = speciate(totals, 21.0, co2_atm=gas)
    monkeypatch.setattr(equilibrium, "AT_ONCE", 60 if count > 60 else 4)
    pieces = speciate(totals, 21.0, co2_atm=gas)
    np.testing.assert_allclose(pieces.molality, whole.molality, rtol=2e-8, atol=1e-16)
    np.testing.assert_allclose(pieces.ph, whole.ph, atol=1e-7)


def test_more_than_one_piece_by_itself() -> None:
    totals = random_feeds(6, AT_ONCE + 40, ALL)
    found = speciate(totals, 25.0, ph=6.0)
    last = speciate(totals[:, AT_ONCE:], 25.0, ph=6.0)
    np.testing.assert_allclose(found.molality[:, AT_ONCE:], last.molality, rtol=2e-8, atol=1e-16)


def test_what_single_precision_cannot_hold_is_begun_in_double(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[np.dtype] = []
    guess = equilibrium.first_guess

    def failing(balances: Balances, *given: object) -> np.ndarray:
        begun.append(balances.precision)
        return guess(balances, *given) * (np.nan if balances.precision == SINGLE else 1.0)

    totals = random_feeds(7, FEW, ALL)
    wanted = speciate(totals, 25.0)
    monkeypatch.setattr(equilibrium, "first_guess", failing)
    found = speciate(totals, 25.0)
    assert begun == [SINGLE, DOUBLE]
    np.testing.assert_allclose(found.molality, wanted.molality, rtol=2e-8, atol=1e-16)


@pytest.mark.parametrize("ph", [0.9, 13.1])
def test_acid_and_lye(ph: float) -> None:
    """Far beyond any feed the balances still close, and the pH comes back from the alkalinity."""
    totals = random_feeds(8, 50, ALL, present=0.6) * 0.1
    found = speciate(totals, 25.0, ph=ph)
    np.testing.assert_allclose(CONTAINS @ found.molality, totals, rtol=1e-9, atol=1e-18)
    back = speciate(totals, 25.0, alkalinity_eq_per_kg=found.alkalinity_eq_per_kg)
    np.testing.assert_allclose(back.ph, ph, atol=1e-7)


@settings(max_examples=10)
@given(seed=st.integers(0, 10**6))
def test_temperatures_of_their_own(seed: int) -> None:
    """Each as if it were alone at its temperature."""
    totals = random_feeds(seed, 6, ALL, present=0.7)
    rng = np.random.default_rng(seed)
    temperature_c, ph = rng.uniform(0.0, 40.0, 6), rng.uniform(4.0, 8.0, 6)
    known = speciate(totals, temperature_c, ph=ph)
    aired = speciate(totals, temperature_c, co2_atm=AIR_CO2_ATM)
    told = conductivity_by_ion(known, temperature_c)
    at_25_c = conductivity_ms_per_cm(known)
    for place, at_c in enumerate(temperature_c.tolist()):
        alone = speciate(totals[:, place], at_c, ph=float(ph[place]))
        np.testing.assert_allclose(known.molality[:, place], alone.molality[:, 0], rtol=2e-8, atol=1e-16)
        np.testing.assert_allclose(known.log10_gamma[:, place], alone.log10_gamma[:, 0], rtol=1e-8)
        expected = conductivity_by_ion(alone, at_c)
        np.testing.assert_allclose(told.share[:, place], expected.share[:, 0], rtol=1e-7, atol=1e-12)
        assert told.ec_ms_per_cm[place] == pytest.approx(expected.ec_ms_per_cm[0], rel=1e-8)
        assert told.band_percent[place] == pytest.approx(expected.band_percent[0], rel=1e-8)
        assert at_25_c[place] == pytest.approx(conductivity_ms_per_cm(alone)[0], rel=1e-8)
        one_aired = speciate(totals[:, place], at_c, co2_atm=AIR_CO2_ATM)
        assert aired.ph[place] == pytest.approx(one_aired.ph[0], abs=1e-6)


def test_conductivity_at_temperatures_of_their_own() -> None:
    """One feed brought to several temperatures, by itself and together."""
    feed = speciate(np.repeat(column(TOMATO)[:, None], 3, axis=1), 25.0, ph=5.8)
    at_c = np.array([15.0, 25.0, 30.0])
    together = conductivity_ms_per_cm(feed, at_c)
    alone = [conductivity_ms_per_cm(feed.take(slice(place, place + 1)), float(at_c[place]))[0] for place in range(3)]
    np.testing.assert_allclose(together, alone, rtol=1e-8)


def test_temperatures_of_their_own_are_kept_apart() -> None:
    found = speciate(random_feeds(3, 4, ALL), np.array([10.0, 15.0, 20.0, 25.0]), ph=6.0)
    some = found.take(slice(1, 3))
    np.testing.assert_array_equal(some.temperature_c, [15.0, 20.0])
    np.testing.assert_allclose(some.log10_activity, found.log10_activity[:, 1:3])
    with pytest.raises(ValueError, match="temperatures of their own"):
        saturation_indices(found)


@pytest.mark.parametrize("temperature_c", [[20.0], [20.0, 41.0], [20.0, np.nan], [-1.0, 20.0]])
def test_temperatures_out_of_range(temperature_c: list[float]) -> None:
    with pytest.raises(OutOfRange):
        speciate(random_feeds(3, 2, ALL), np.array(temperature_c), ph=6.0)
