"""Ten thousand damaged files: each opens or is refused in one line, and none is changed."""

from __future__ import annotations

import json
import random
import re
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from core.recipe import Recipe, RecipeError, dumps, load, loads

GOLDEN = (Path(__file__).parent / "golden" / "recipe-1.saltwright").read_bytes()
SMALLEST = b'{"format": "saltwright-recipe", "schema": 1, "shelf": [{"salt": "urea"}]}\n'
FILES = 10_000
CHUNKS = 20
LONGEST_CPU_SECONDS = 1.0

TOKEN = re.compile(rb'"(?:[^"\\]|\\.)*"|-?[0-9.]+|[\[\]{},:]|\w+')
JUNK = (
    b"", b"null", b"true", b"NaN", b"-Infinity", b"1e999", b"-1e-400", b"9" * 5000, b"0." + b"3" * 5000, b"-0.0", b"[]",
    b"{}", b'""', b'"\\u0000"', b'"\\ud83d"', b'"\\u202e"', "\u202e".encode(), "💧".encode(), b"\xff", b"\xc0\x80",
    b'"' + b"x" * 5000 + b'"', b"[" * 40, b'{"a":' * 40, b'"schema"', b'"N"', b"1.234,5", b"\x00", b"//",
    b"\xef\xbb\xbf",
)  # fmt: skip

Damage = Callable[[random.Random, bytes], bytes]


def flip_bits(dice: random.Random, data: bytes) -> bytes:
    damaged = bytearray(data)
    for _ in range(dice.randint(1, 8)):
        damaged[dice.randrange(len(damaged))] ^= 1 << dice.randrange(8)
    return bytes(damaged)


def cut(dice: random.Random, data: bytes) -> bytes:
    start, stop = sorted(dice.randrange(len(data) + 1) for _ in range(2))
    return dice.choice([data[:stop], data[start:], data[:start] + data[stop:]])


def swap_tokens(dice: random.Random, data: bytes) -> bytes:
    spans = [found.span() for found in TOKEN.finditer(data)]
    (a, b), (c, d) = sorted(dice.sample(spans, 2))
    return data[:a] + data[c:d] + data[b:c] + data[a:b] + data[d:]


def replace_token(dice: random.Random, data: bytes) -> bytes:
    start, stop = dice.choice([found.span() for found in TOKEN.finditer(data)])
    return data[:start] + dice.choice(JUNK) + data[stop:]


def repeat_piece(dice: random.Random, data: bytes) -> bytes:
    start, stop = sorted(dice.randrange(len(data) + 1) for _ in range(2))
    return data[:stop] + data[start:stop] * dice.randint(1, 4) + data[stop:]


def repeat_member(dice: random.Random, data: bytes) -> bytes:
    document = json.loads(data)
    name = dice.choice(list(document))
    value = json.dumps(document[name])
    return f'{{"{name}": {value}, {json.dumps(document)[1:]}'.encode()


def change_value(dice: random.Random, data: bytes) -> bytes:
    """Change one value of a well-formed document: wrong types and numbers out of range survive the JSON reader."""
    document = json.loads(data)
    holder = document
    while True:
        key = dice.choice(list(holder) if isinstance(holder, dict) else range(len(holder)))
        if isinstance(holder[key], dict | list) and holder[key] and dice.random() < 0.9:
            holder = holder[key]
            continue
        numbers = [-1, 0, 1e-12, 0.5, 1e6, 1e300, 10**30, dice.uniform(-1e3, 1e3), dice.gauss(10, 10)]
        holder[key] = dice.choice([None, True, "", "A", "x" * 300, "\ud800", [], {}, [[]], {"N": 1}, *numbers])
        return json.dumps(document).encode()


def drop_member(dice: random.Random, data: bytes) -> bytes:
    """Leave one name out of a group somewhere in a well-formed document."""
    document = json.loads(data)
    groups = [document, document["shelf"][0], *document.get("aim", {}).get("targets", ())]
    group = dice.choice(groups)
    del group[dice.choice(list(group))]
    return json.dumps(document).encode()


def many(dice: random.Random, data: bytes) -> bytes:
    document = json.loads(data)
    count = dice.choice([150, 201, 3000])
    document["shelf"] = [{"salt": "urea", "entry_id": str(index)} for index in range(count)]
    return json.dumps(document).encode()


def nest(dice: random.Random, data: bytes) -> bytes:
    opening = dice.choice([b"[", b'{"a":', b"[{", b'{"shelf":['])
    return opening * dice.choice([5, 25, 1000, 20_000]) + data


def noise(dice: random.Random, data: bytes) -> bytes:
    return dice.randbytes(dice.choice([0, 1, 10, 1000, len(data)]))


def unicode_noise(dice: random.Random, data: bytes) -> bytes:
    text = "".join(chr(dice.choice([dice.randrange(0xD800), dice.randrange(0xE000, 0x110000)])) for _ in range(20))
    start = dice.randrange(len(data))
    return data[:start] + text.encode() + data[start:]


def oversize(dice: random.Random, data: bytes) -> bytes:
    piece = dice.choice([b" ", b"1,", b'"\\"', b"[],", b'{"a":1},', b"9", b'"', b"\\"])
    return dice.choice([data[:-2], b"["]) + piece * (dice.choice([990_000, 1_000_001]) // len(piece))


DAMAGES: tuple[tuple[Damage, int], ...] = (
    (flip_bits, 20), (cut, 15), (swap_tokens, 15), (replace_token, 20), (repeat_piece, 8), (repeat_member, 5),
    (change_value, 30), (drop_member, 6), (many, 2), (nest, 4), (noise, 4), (unicode_noise, 6),
)  # fmt: skip


def damaged_file(seed: int) -> bytes:
    dice = random.Random(seed)
    data = SMALLEST if seed % 5 == 0 else GOLDEN
    if seed % 499 == 0:  # a prime, so that every worker gets some
        return oversize(dice, data)
    (damage,) = dice.choices([damage for damage, _ in DAMAGES], [weight for _, weight in DAMAGES])
    return damage(dice, data)


def opened(path: Path) -> Recipe | str:
    """Return the recipe, or the refusal; anything else raised fails the test by itself."""
    try:
        return load(path)
    except RecipeError as error:
        return str(error)


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_each_opens_or_is_refused_in_one_line(chunk: int, tmp_path: Path) -> None:
    path = tmp_path / "damaged.saltwright"
    for seed in range(chunk, FILES, CHUNKS):
        data = damaged_file(seed)
        path.write_bytes(data)
        began = time.process_time()
        result = opened(path)
        spent_s = time.process_time() - began
        assert spent_s < LONGEST_CPU_SECONDS, f"seed {seed} took {spent_s:.2f} s"
        assert path.read_bytes() == data, f"seed {seed} was changed"
        if isinstance(result, Recipe):
            assert loads(dumps(result)) == result, f"seed {seed} does not come back"
        else:
            assert result.isprintable(), f"seed {seed}: {result!r}"
            assert len(result) < 1000, f"seed {seed}: {result!r}"
            assert str(path) in result


def test_the_damage_is_of_both_kinds(tmp_path: Path) -> None:
    """Damage that is always refused at the first step would test nothing behind it."""
    path = tmp_path / "damaged.saltwright"
    kinds = {"opened": 0, "valid JSON": 0, "holds": 0, "must be": 0, "outside": 0, "lacks": 0, "twice": 0, "UTF-8": 0}
    for seed in range(600):
        path.write_bytes(damaged_file(seed))
        result = opened(path)
        for kind in kinds:
            kinds[kind] += kind in (result if isinstance(result, str) else "opened")
    assert min(kinds.values()) >= 5, kinds
