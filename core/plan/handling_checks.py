"""How to handle what a blend uses: acids, what feeds a fire, and what must not meet undiluted on the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from core.blend.alkalinity import is_acid
from core.blend.shelf import Source
from core.catalog import pairs_among
from core.plan.cautions import caution
from core.plan.records import Caution

TOLD_OF_TANKS = frozenset({("calcium", "settles-calcium"), ("acid", "chelate")})
"""Pairs that harm the crop, not the person: the split keeps them apart, or a caution of the tanks tells them."""

Meeting = tuple[tuple[str, ...], tuple[str, ...], str]
"""Salts, those they must not meet undiluted, and what comes of it."""


def handling_cautions(used: Sequence[Source]) -> Iterator[Caution]:
    """Acids, oxidisers, and pairs of the products used that must be kept apart as they are."""
    acids = [source.entry.salt for source in used if is_acid(source)]
    if acids:
        yield caution("acid-handling", salts=acids)
    for held, others, result in meetings(tuple(source.salt.id for source in used if source.salt is not None)):
        yield caution("keep-apart", salts=list(held), other_salts=list(others), result=result)
    oxidisers = [source.entry.salt for source in used if source.salt is not None and source.salt.oxidiser]
    if oxidisers:
        yield caution("oxidiser-handling", salts=oxidisers)


@lru_cache(maxsize=64)
def meetings(salt_ids: tuple[str, ...]) -> tuple[Meeting, ...]:
    """Return what must not meet undiluted among these products, the gravest first, the same products once."""
    found: dict[frozenset[str], Meeting] = {}
    pairs = sorted(pairs_among(salt_ids), key=lambda one: one[0].level != "stop")
    for pair, left, right in pairs:
        if (pair.a, pair.b) not in TOLD_OF_TANKS:
            others = tuple(one for one in right if one not in left) or left[1:]
            held = tuple(one for one in left if one not in others)
            found.setdefault(frozenset((*held, *others)), (held, others, pair.result))
    return tuple(found.values())
