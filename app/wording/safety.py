"""What the catalog knows of handling a product: what it must not meet, first aid, storing, the law."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.words import catalog_words

if TYPE_CHECKING:
    from core.catalog import Salt
    from core.catalog.hazards import Hazard, Statement

KEEP_APART = marked("Keep apart from: {statements}.")
FIRST_AID = marked("First aid: {statements}")
STORING = marked("Storing: {statements}")
FURTHER = marked("Also: {statements}")


def things_to_wear(salts: Iterable[Salt | str]) -> str:
    """Return what to wear for catalog products, each thing once; "" where nothing is known."""
    from core.catalog import hazard

    known = [hazard(salt) for salt in salts]
    things = dict.fromkeys(item.text for one in known if one is not None for item in one.wear)
    if {"goggles", "gloves"} <= things.keys():
        things.pop("goggles and gloves against dust", None)
    if "face shield and goggles" in things:
        things.pop("goggles", None)
    return ", ".join(map(catalog_words, things))


def care_title() -> str:
    """Return what unfolds all that is known of handling a product."""
    return _("Handling, first aid, storing")


def care(known: Hazard) -> tuple[str, ...]:
    """Return all that is known of handling a product, a line for each matter there is something of."""
    lines = (first_aid(known), keep_apart(known), _line(STORING, known.storage), _line(FURTHER, known.more))
    told = tuple(filter(None, lines))
    return (*told, _("Its safety data sheet and local rules come first.")) if told else ()


def first_aid(*known: Hazard) -> str:
    """Return first aid for products, each measure once; "" where nothing is known."""
    return _line(FIRST_AID, dict.fromkeys(one for product in known for one in product.first_aid))


def keep_apart(*known: Hazard) -> str:
    """Return what products must be kept apart from, each once; "" where nothing is known."""
    return _line(KEEP_APART, dict.fromkeys(one for product in known for one in product.keep_apart_from), "; ")


def _line(template: str, statements: Iterable[Statement], between: str = " ") -> str:
    held = tuple(statements)
    if not held:
        return ""
    texts = dict.fromkeys(catalog_words(one.text) for one in held)
    recalled = any(one.known.how_known == "MEMORY" for one in held)
    line = _(template).format(statements=between.join(texts))
    return " ".join(filter(None, (line, _("Partly from memory.") if recalled else "")))
