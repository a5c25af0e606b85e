"""Answers to "why?": plain frozen values that serialise as they stand; their sentences are the program's wording."""

from __future__ import annotations

from typing import Any, Literal

from msgspec import Struct


class Step(Struct, frozen=True):
    """One edit of a recipe that can be tried and undone; `core.blend.steps.apply` makes it.

    `kind`: "add-salt" `about` a catalog id; "drop-entry" `about` a shelf key; "raise-limit" `about` a nutrient or a
    shelf key, `value` the new bound [mg/L]; "ammonium-share" `value` [%]; "residual-alkalinity" `value` [meq/L];
    "purer-water" `value` the share of pure water [%].
    """

    kind: Literal["add-salt", "drop-entry", "raise-limit", "ammonium-share", "residual-alkalinity", "purer-water"]
    about: str
    value: float | None = None


class Change(Struct, frozen=True):
    """One nutrient before and after an edit [mg/L], and whether it still stands in its wanted range."""

    nutrient: str
    before_mg_per_l: float
    after_mg_per_l: float
    in_range: bool


class Remedy(Struct, frozen=True):
    """An edit worth trying, with how many targets are out of range before and after it."""

    step: Step
    missed_before: int
    missed_after: int
    changes: tuple[Change, ...]
    cost_change_per_1000_l: float | None = None


class Cause(Struct, frozen=True):
    """One thing that holds a nutrient where it is.

    `code`: "water" the water alone is over; "fixed" exact amounts alone are over; "no-source" nothing on the shelf
    brings it; "not-allowed" only products that may not be used bring it; "limit", "chloride", "ammonium-share",
    "entry", "alkalinity" a bound holds it; "comes-with" it comes along with what other targets need; "at-odds" more
    of it upsets other targets. `data` holds what its sentence needs.
    """

    code: str
    data: dict[str, Any] = {}


class Reason(Struct, frozen=True):
    """One target out of its range, and what holds it there."""

    nutrient: str
    verdict: Literal["short", "over"]
    feed_mg_per_l: float
    target_mg_per_l: float
    low_mg_per_l: float
    high_mg_per_l: float
    causes: tuple[Cause, ...]


class Side(Struct, frozen=True):
    """What one step to one side of a bound does to the goal.

    `misfit_change` is of the sum of squared weighted relative deviations; `cost_change_per_1000_l` of the cost, None
    where not everything used has a price. `gains` is the nutrient that moves most towards its target, if any does.
    """

    at: float
    misfit_change: float
    cost_change_per_1000_l: float | None
    gains: str | None = None


class Price(Struct, frozen=True):
    """What a bound, a target or a tolerance costs: a step up and one down, each solved anew; None where it cannot be.

    `kind`: "target", "tolerance" of a target [%], or the code of a bound: "limit", "chloride", "ammonium-share",
    "entry", "alkalinity".
    """

    kind: str
    about: str
    at: float
    unit: str
    down: Side | None
    up: Side | None


class Unused(Struct, frozen=True):
    """An entry the blend does without, and the price per kg below which it would come in; None where no price helps.

    `reason`: "price" it is too dear; "no-price-helps" it would not fit as well; "not-allowed" it may not be used;
    "prices-missing" prices do not decide yet; "count" fewest salts were asked for.
    """

    entry_id: str
    price_per_kg: float | None
    enters_below_per_kg: float | None
    reason: Literal["price", "no-price-helps", "not-allowed", "prices-missing", "count"]


class Spare(Struct, frozen=True):
    """A salt in use that the blend can do without, every target still in its range."""

    step: Step
    entry_id: str
    changes: tuple[Change, ...]
    cost_change_per_1000_l: float | None


class Why(Struct, frozen=True):
    """Everything "why?" says of a blend, worst first."""

    reasons: tuple[Reason, ...]
    remedy: Remedy | None
    spare: tuple[Spare, ...]
    prices: tuple[Price, ...]
    unused: tuple[Unused, ...]
