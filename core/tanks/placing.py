"""Where the traces go once the main products stand, and in a word why each product is where it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from core.tanks.compatibility import SULFATE_LIMIT_MOL_PER_L, clash
from core.tanks.items import Item, Traits
from core.tanks.plans import Content

HOMES: dict[str, tuple[Content, ...]] = {
    "chelate": ("calcium", "plain", "sulfate", "phosphate", "everything", "acid", "silicate"),
    "iron": ("sulfate", "plain", "calcium", "phosphate", "acid", "everything", "silicate"),
    "metal": ("phosphate", "sulfate", "plain", "calcium", "acid", "everything", "silicate"),
    "other": ("phosphate", "sulfate", "plain", "calcium", "acid", "everything", "silicate"),
}
"""Kind of trace -> contents of the tanks it may join, best first. Chelates keep away from the side acid goes to,
unchelated metals from calcium for their sulfate, unchelated iron from phosphate; boron and molybdenum may go anywhere.
"""

PINNED = "pinned"
SHARED = "shared"
FREE = "free"
SILICATE = "silicate-alone"
CALCIUM = "calcium-apart"
FROM_CALCIUM = "apart-from-calcium"
BASE = "base-apart"
ACID_PHOSPHATE = "acid-with-phosphate"
ACID_CALCIUM = "acid-with-calcium"
ACID_OWN = "acid-apart"
CHELATE_CALCIUM = "chelate-with-calcium"
CHELATE_FROM_ACID = "chelate-apart-from-acid"
CHELATE_ELSEWHERE = "chelate-anywhere"
METAL_PHOSPHATE = "metal-away-from-calcium"
METAL_CALCIUM = "sulfate-under-gypsum-limit"
IRON_APART = "iron-away-from-phosphate"
IRON_BESIDE = "iron-beside-phosphate"
TRACE_ANYWHERE = "trace-anywhere"
NO_BETTER = "no-better-place"

REASONS = (
    PINNED, SHARED, FREE, SILICATE, CALCIUM, FROM_CALCIUM, BASE, ACID_PHOSPHATE, ACID_CALCIUM, ACID_OWN,
    CHELATE_CALCIUM, CHELATE_FROM_ACID, CHELATE_ELSEWHERE, METAL_PHOSPHATE, METAL_CALCIUM, IRON_APART, IRON_BESIDE,
    TRACE_ANYWHERE, NO_BETTER,
)  # fmt: skip
"""Every code a Place may carry as its reason."""


@dataclass
class Filled:
    """A tank being filled: its products and the share of each; lives only inside one split.

    `content` is what kind of tank its main products make it; traces do not change it.
    """

    shares: dict[Item, float] = field(default_factory=dict)
    content: Content = "plain"

    @property
    def traits(self) -> set[Traits]:
        """All that the rules ask of its products."""
        return {item.traits for item in self.shares}

    def sulfate_mol_per_l_feed(self) -> float:
        """Sulfur it holds [mol per litre of finished feed]."""
        return sum([share * item.mol_per_l("S") for item, share in self.shares.items()])


def content_of(items: Iterable[Item]) -> Content:
    """Return what kind of tank products make: traces count only where there is nothing else."""
    main = [item for item in items if not item.trace]
    if any(item.silicate for item in main):
        return "silicate"
    phosphate, sulfate = any(item.phosphate_side for item in main), any(item.sulfate_side for item in main)
    if any(item.calcium_side for item in main):
        return "everything" if phosphate or sulfate else "calcium"
    if main and all(item.strong_acid for item in main):
        return "acid"
    return "phosphate" if phosphate else "sulfate" if sulfate else "plain"


def told_content(tank: Filled, tanks: Sequence[Filled]) -> Content:
    """Return what a tank is called by: "everything" only where it is the only one, else what meets calcium in it."""
    if tank.content != "everything" or sum(bool(other.shares) for other in tanks) < 2:
        return tank.content
    phosphate = any(item.phosphate_side for item in tank.shares if not item.trace)
    return "calcium-phosphate" if phosphate else "calcium-sulfate"


def place_traces(tanks: list[Filled], traces: Sequence[Item], count: int, ratio: float) -> None:
    """Put every trace into a tank, those of one kind together; a new tank is opened only where none will do.

    Parameters
    ----------
    tanks : filled with the main products, in the order of their letters; changed in place
    count : tanks that may be used
    ratio : litres of finished feed per litre of concentrate
    """
    units: dict[str, list[Item]] = {kind: [] for kind in HOMES}
    for item in sorted(traces, key=lambda item: item.key):
        units[trace_kind(item)].append(item)
    for kind, unit in units.items():
        if unit:
            _home(tanks, unit, HOMES[kind], count, ratio).shares.update(dict.fromkeys(unit, 1.0))


def trace_kind(item: Item) -> str:
    """Return which row of HOMES a trace follows."""
    if item.chelate is not None:
        return "chelate"
    if item.mol_per_l("Fe", "Fe3") > 0:
        return "iron"
    return "metal" if item.mol_per_l("Mn", "Zn", "Cu") > 0 else "other"


def _home(tanks: list[Filled], unit: list[Item], homes: tuple[Content, ...], count: int, ratio: float) -> Filled:
    kinds, sulfur = {item.traits for item in unit}, sum([item.mol_per_l("S") for item in unit])

    def cost(tank: Filled) -> tuple[int, int]:
        pairs = sum([bool(clash(one, other)) for one in kinds for other in tank.traits])
        return pairs + (sulfur > 0 and _too_much_sulfate(tank, sulfur, ratio)), homes.index(tank.content)

    ranked = sorted(((cost(tank), number) for number, tank in enumerate(tanks)))
    if ranked and (ranked[0][0][0] == 0 or len(tanks) >= count):
        return tanks[ranked[0][1]]
    tanks.append(Filled())
    return tanks[-1]


def _too_much_sulfate(tank: Filled, more_mol_per_l_feed: float, ratio: float) -> bool:
    if not any(item.calcium_side for item in tank.shares):
        return False
    return ratio * (tank.sulfate_mol_per_l_feed() + more_mol_per_l_feed) > SULFATE_LIMIT_MOL_PER_L


def reason_for(
    item: Item, tank: Filled, tanks: Sequence[Filled], pins: Mapping[str, int], ratio: float, broken: bool
) -> str:
    """Return the code of why a product stands in `tank`, one of REASONS; `broken` where a rule is broken in there."""
    if item.key in pins:
        return PINNED
    gypsum = item.trace and item.mol_per_l("S") > 0 and _too_much_sulfate(tank, 0.0, ratio)
    if gypsum or (broken and any(clash(item.traits, other) for other in tank.traits)):
        return NO_BETTER
    if item.trace:
        return _trace_reason(item, tank, tanks)
    return _main_reason(item, tank, tanks)


def _main_reason(item: Item, tank: Filled, tanks: Sequence[Filled]) -> str:
    if tank.shares[item] < 1.0:
        return SHARED
    if item.strong_acid:
        return {"phosphate": ACID_PHOSPHATE, "sulfate": ACID_PHOSPHATE, "calcium": ACID_CALCIUM}.get(
            "acid" if _is_alone(item, tank) else tank.content, ACID_OWN
        )
    if item.silicate or item.base:
        return SILICATE if item.silicate else BASE
    if item.calcium_side:
        return CALCIUM
    calcium_elsewhere = any(other.calcium_side for any_tank in tanks for other in any_tank.shares)
    return FROM_CALCIUM if calcium_elsewhere and (item.apart_side) else FREE


def _is_alone(item: Item, tank: Filled) -> bool:
    return all(other is item or other.strong_acid or other.trace for other in tank.shares)


def _trace_reason(item: Item, tank: Filled, tanks: Sequence[Filled]) -> str:
    kind = trace_kind(item)
    if kind == "chelate":
        if tank.content == "calcium":
            return CHELATE_CALCIUM
        acid = any(other.strong_acid for any_tank in tanks for other in any_tank.shares)
        return CHELATE_FROM_ACID if acid else CHELATE_ELSEWHERE
    if kind == "iron":
        return IRON_BESIDE if any(other.phosphate_side for other in tank.shares) else IRON_APART
    if tank.content == "calcium" and item.mol_per_l("S") > 0:
        return METAL_CALCIUM
    calcium = any(other.calcium_side for any_tank in tanks for other in any_tank.shares)
    return METAL_PHOSPHATE if calcium and kind == "metal" and tank.content != "calcium" else TRACE_ANYWHERE
