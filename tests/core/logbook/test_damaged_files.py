"""Three thousand damaged logbooks: each opens or is refused in one line."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest

from core.logbook.file import dumps, loads
from core.recipe import RecipeError
from tests.core.recipe import test_damaged_files as damages

GOLDEN = (Path(__file__).parent / "golden" / "log-1.saltwright-log").read_bytes()
FILES, CHUNKS = 3000, 6
DAMAGES = (
    (damages.flip_bits, 20), (damages.cut, 15), (damages.swap_tokens, 12), (damages.replace_token, 20),
    (damages.repeat_piece, 8), (damages.repeat_member, 5), (damages.change_value, 40), (damages.nest, 4),
    (damages.noise, 4), (damages.unicode_noise, 6),
)  # fmt: skip


def damaged(seed: int) -> bytes:
    dice = random.Random(seed)
    (damage,) = dice.choices([damage for damage, _ in DAMAGES], [weight for _, weight in DAMAGES])
    return damage(dice, GOLDEN)


def told(data: bytes) -> str:
    """Return the refusal, or nothing where the file opens and comes back; anything else raised fails the test."""
    try:
        logbook = loads(data, "damaged")
    except RecipeError as error:
        return str(error)
    assert loads(dumps(logbook)) == logbook
    return ""


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_each_opens_or_is_refused_in_one_line(chunk: int) -> None:
    for seed in range(chunk, FILES, CHUNKS):
        sentence = told(damaged(seed))
        assert not sentence or (sentence.isprintable() and len(sentence) < 1000), f"seed {seed}: {sentence!r}"
        assert not sentence or sentence.startswith("damaged"), f"seed {seed}: {sentence!r}"


def test_the_damage_is_of_many_kinds() -> None:
    kinds = dict.fromkeys(("opened", "valid JSON", "holds", "must be", "outside", "repeats", "no date", "UTF-8"), 0)
    for seed in range(1200):
        sentence = told(damaged(seed)) or "opened"
        for kind in kinds:
            kinds[kind] += kind in sentence
    changed = json.loads(GOLDEN)
    changed["reservoirs"][1]["name"] = "Tunnel 1"
    kinds["repeats"] += "repeats" in told(json.dumps(changed).encode())
    assert min(kinds.values()) >= 1, kinds
    assert kinds["opened"] >= 20, kinds
