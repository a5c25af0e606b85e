"""What a guided search for a cause says: causes by how well they explain the readings, each with its next test."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

CauseCode = Literal[
    "meter", "temperature", "scale", "volume", "gallon", "dose-forgotten", "dose-twice", "part-missing", "part-dose",
    "part-twice", "salt-forgotten", "salt-doubled", "wrong-hydrate", "tank-volume", "water", "acid", "uptake",
]  # fmt: skip

AskCode = Literal["standard", "at-25", "display", "volume", "tank-level", "part-alone", "plain-water", "analysis"]


class Ask(Struct, frozen=True):
    """The next test: `what` it is of, and what it shows if the cause is true, and if not.

    "standard", "part-alone", "plain-water" and "at-25" are readings [mS/cm]; "display" the figure on the meter's own
    scale `what`; "volume" litres in the reservoir; "tank-level" millilitres gone from the tank or acid
    `what`. `dose` is how much of the part goes into a litre of water [mL/L].
    """

    code: AskCode
    what: str = ""
    if_true: float | None = None
    if_not: float | None = None
    dose: float | None = None


class Cause(Struct, frozen=True):
    """One candidate.

    `what`: the salt, tank, water or scale it is about; `other` what was taken in its place; `factor` how far off it
    is. `weight_percent` is its share of the plausibility of all; `foretold_ms_per_cm` the reading it foretells.
    """

    code: CauseCode
    weight_percent: float
    foretold_ms_per_cm: float
    ask: Ask
    what: str = ""
    other: str = ""
    factor: float = 1.0
    also: tuple[str, ...] = ()


class Triage(Struct, frozen=True):
    """Why one reading is not the one foretold: `causes` by plausibility, the likeliest first.

    `index` is the entry's place in the diary; `readings` how many readings were weighed.
    """

    index: int
    read_ms_per_cm: float
    foretold_ms_per_cm: float
    off_percent: float
    readings: int
    causes: tuple[Cause, ...]
