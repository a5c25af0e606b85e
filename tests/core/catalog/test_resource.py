"""The files themselves: every source is listed, every listed source is used, and loading stays light."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from importlib.resources import files
from typing import Any, get_args

import msgspec
import pytest

from core.catalog import HowKnown, sources
from core.catalog.resource import read
from core.catalog.salts import Salt

NAMES = ("salts", "densities", "solubility", "crops", "waters", "hazards", "limits", "label_law", "closed_loop")
CATALOG = files("resources.catalog")


def mentions(value: Any) -> Iterator[dict[str, Any]]:
    """Yield every part of a decoded file that names a source."""
    if isinstance(value, dict):
        if "source" in value:
            yield value
        for part in value.values():
            yield from mentions(part)
    elif isinstance(value, list):
        for part in value:
            yield from mentions(part)


def mentioned() -> Iterator[dict[str, Any]]:
    for name in NAMES:
        yield from mentions(json.loads(CATALOG.joinpath(f"{name}.json").read_text(encoding="utf-8")))


def test_every_source_is_listed_and_every_listed_one_used() -> None:
    assert {one["source"] for one in mentioned()} == sources().keys()


def test_it_is_always_said_how_a_value_is_known() -> None:
    assert {one["how_known"] for one in mentioned()} == set(get_args(HowKnown))


def test_no_other_file_lies_there() -> None:
    there = {path.name for path in CATALOG.iterdir() if path.name.endswith(".json")}
    assert there == {f"{name}.json" for name in (*NAMES, "sources")}


def test_no_address_and_no_path_stands_in_the_data() -> None:
    for name in (*NAMES, "sources"):
        text = CATALOG.joinpath(f"{name}.json").read_text(encoding="utf-8").lower()
        assert not any(word in text for word in ("http", "www.", "/work", "shared/", "vendor", "scribd", "docslib"))


def test_a_file_that_does_not_fit_is_refused() -> None:
    with pytest.raises(msgspec.ValidationError):
        read("crops.json", tuple[Salt, ...])
    with pytest.raises(FileNotFoundError):
        read("nothing.json", tuple[Salt, ...])


def test_importing_the_catalog_reads_nothing_and_loads_nothing_heavy() -> None:
    code = """
import sys, core.catalog as c
heavy = {"scipy", "pint", "numpy", "highspy", "PySide6"} & set(sys.modules)
cold = [f.cache_info().currsize for f in (c.salts, c.crops, c.waters, c.sources, c.feed_limits)]
c.salts(); c.crops(); c.waters(); c.hazard("urea"); c.density_kg_per_l("nitric-acid"); c.solubility_g_per_l("urea", 20)
heavy |= {"scipy", "pint", "numpy", "highspy", "PySide6"} & set(sys.modules)
sys.exit(f"{heavy} {cold}" if heavy or any(cold) else 0)
"""
    subprocess.run([sys.executable, "-c", code], check=True, timeout=60)
