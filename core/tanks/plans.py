"""What a split answers: for each tank what stands in it, why, and whether it stays clear."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Content = Literal["calcium", "phosphate", "acid", "silicate", "sulfate", "plain", "everything",
                  "calcium-phosphate", "calcium-sulfate"]  # fmt: skip
Verdict = Literal["clear", "doubtful", "settles"]

VERDICTS: tuple[Verdict, ...] = ("clear", "doubtful", "settles")
"""From good to bad; a verdict's place here is its rank."""

LETTERS = "ABCD"


@dataclass(frozen=True)
class Place:
    """One product in one tank: which share of it (0 to 1) and the code of the reason it stands there."""

    key: str
    share: float
    reason: str


@dataclass(frozen=True)
class TankPlan:
    """One concentrate.

    Attributes
    ----------
    name : "A" to "D"
    content : what kind of tank it is; "everything" is said of the only tank, "calcium-phosphate" and "calcium-sulfate"
        of one that holds both sides beside another tank
    contents : its products, heaviest first
    verdict, cold_verdict : at the tanks' temperature and in the coldest room
    margin : how far the coldest room's tank is from being in doubt [log10 of the saturation ratio]; negative beyond
    limited_by : the solid that comes out first, or None where none could
    settling : the solids that come out, or may, in the coldest room, the worst first; empty where it is clear
    broken : codes of the rules broken inside, see core.tanks.compatibility.RULES; empty in a good split
    breakers : for each of these the products that break it, in the order of `contents`
    """

    name: str
    content: Content
    contents: tuple[Place, ...]
    verdict: Verdict
    cold_verdict: Verdict
    margin: float
    limited_by: str | None
    settling: tuple[str, ...]
    broken: tuple[str, ...]
    breakers: tuple[tuple[str, ...], ...] = ()

    @property
    def keys(self) -> frozenset[str]:
        """The products that stand here."""
        return frozenset(place.key for place in self.contents)
