"""The recipe: what a grower states. Frozen values; an edit makes a new recipe.

Every amount is per litre of finished feed unless its name says otherwise. ``None`` means "not stated",
which is never the same as zero.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct, field
from msgspec.structs import astuple

NUTRIENTS = (
    "N", "NO3-N", "NH4-N", "urea-N", "P", "K", "Ca", "Mg", "S",
    "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Si", "Na", "Cl",
)  # fmt: skip
"""Every nutrient an aim, a limit or a feed can name, in the order shown to people."""

MACROS = ("N", "NO3-N", "NH4-N", "urea-N", "P", "K", "Ca", "Mg", "S")
NITROGEN_FORMS = ("NO3-N", "NH4-N", "urea-N")
TRACES = ("Fe", "Mn", "Zn", "B", "Cu", "Mo", "Si")

Nutrient = Literal[
    "N", "NO3-N", "NH4-N", "urea-N", "P", "K", "Ca", "Mg", "S",
    "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Si", "Na", "Cl",
]  # fmt: skip


class _Printed(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A closed list of printed names with a number each; a name left out is unknown."""

    def items(self) -> Iterator[tuple[str, float]]:
        """Yield (printed name, number) for every name that was given."""
        for printed, number in zip(self.__struct_encode_fields__, astuple(self), strict=True):
            if number is not None:
                yield printed, number

    def __bool__(self) -> bool:
        numbers = astuple(self)
        return numbers.count(None) < len(numbers)


class LabelPercent(_Printed, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """What a bag or bottle prints, in per cent by mass; an element and its oxide are never both given."""

    n: float | None = field(default=None, name="N")
    no3_n: float | None = field(default=None, name="NO3-N")
    nh4_n: float | None = field(default=None, name="NH4-N")
    urea_n: float | None = field(default=None, name="urea-N")
    p: float | None = field(default=None, name="P")
    p2o5: float | None = field(default=None, name="P2O5")
    k: float | None = field(default=None, name="K")
    k2o: float | None = field(default=None, name="K2O")
    ca: float | None = field(default=None, name="Ca")
    cao: float | None = field(default=None, name="CaO")
    mg: float | None = field(default=None, name="Mg")
    mgo: float | None = field(default=None, name="MgO")
    s: float | None = field(default=None, name="S")
    so3: float | None = field(default=None, name="SO3")
    fe: float | None = field(default=None, name="Fe")
    mn: float | None = field(default=None, name="Mn")
    zn: float | None = field(default=None, name="Zn")
    b: float | None = field(default=None, name="B")
    cu: float | None = field(default=None, name="Cu")
    mo: float | None = field(default=None, name="Mo")
    si: float | None = field(default=None, name="Si")
    sio2: float | None = field(default=None, name="SiO2")
    na: float | None = field(default=None, name="Na")
    na2o: float | None = field(default=None, name="Na2O")
    cl: float | None = field(default=None, name="Cl")


class WaterContents(_Printed, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A water analysis in mg/L: elements, and carbonate as HCO3, CO3 or alkalinity as CaCO3."""

    no3_n: float | None = field(default=None, name="NO3-N")
    nh4_n: float | None = field(default=None, name="NH4-N")
    urea_n: float | None = field(default=None, name="urea-N")
    n: float | None = field(default=None, name="N")
    p: float | None = field(default=None, name="P")
    k: float | None = field(default=None, name="K")
    ca: float | None = field(default=None, name="Ca")
    mg: float | None = field(default=None, name="Mg")
    s: float | None = field(default=None, name="S")
    fe: float | None = field(default=None, name="Fe")
    mn: float | None = field(default=None, name="Mn")
    zn: float | None = field(default=None, name="Zn")
    b: float | None = field(default=None, name="B")
    cu: float | None = field(default=None, name="Cu")
    mo: float | None = field(default=None, name="Mo")
    si: float | None = field(default=None, name="Si")
    na: float | None = field(default=None, name="Na")
    cl: float | None = field(default=None, name="Cl")
    hco3: float | None = field(default=None, name="HCO3")
    co3: float | None = field(default=None, name="CO3")
    caco3: float | None = field(default=None, name="CaCO3")


class TankContents(_Printed, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """What a tank already mixed holds, in mmol per gram of what was dissolved in it, by the totals of the chemistry.

    With acid, alkalinity and chelates in it, which no label can state. Ligands are named, Fe3 is iron in chelates, and
    inert+ and inert- are what a label left unsaid, in meq.
    """

    ca: float | None = field(default=None, name="Ca")
    mg: float | None = field(default=None, name="Mg")
    k: float | None = field(default=None, name="K")
    na: float | None = field(default=None, name="Na")
    nh4: float | None = field(default=None, name="NH4")
    fe: float | None = field(default=None, name="Fe")
    fe3: float | None = field(default=None, name="Fe3")
    mn: float | None = field(default=None, name="Mn")
    zn: float | None = field(default=None, name="Zn")
    cu: float | None = field(default=None, name="Cu")
    no3: float | None = field(default=None, name="NO3")
    p: float | None = field(default=None, name="P")
    s: float | None = field(default=None, name="S")
    cl: float | None = field(default=None, name="Cl")
    mo: float | None = field(default=None, name="Mo")
    c: float | None = field(default=None, name="C")
    b: float | None = field(default=None, name="B")
    si: float | None = field(default=None, name="Si")
    urea: float | None = field(default=None, name="urea")
    citrate: float | None = field(default=None, name="citrate")
    edta: float | None = field(default=None, name="EDTA")
    dtpa: float | None = field(default=None, name="DTPA")
    eddha: float | None = field(default=None, name="EDDHA")
    hbed: float | None = field(default=None, name="HBED")
    inert_plus: float | None = field(default=None, name="inert+")
    inert_minus: float | None = field(default=None, name="inert-")


class _Record(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Shared settings of every record."""


class Target(_Record, frozen=True):
    """What the crop should get of one nutrient, with either a tolerance or a range."""

    nutrient: Nutrient
    mg_per_l: float
    tolerance_percent: float | None = None
    low_mg_per_l: float | None = None
    high_mg_per_l: float | None = None
    weight: float | None = None


class Limit(_Record, frozen=True):
    """A bound the feed must keep for one nutrient."""

    nutrient: Nutrient
    at_most_mg_per_l: float | None = None
    at_least_mg_per_l: float | None = None


class Aim(_Record, frozen=True):
    """Targets and limits of the feed; `crop` names the catalog profile they came from, if any."""

    targets: tuple[Target, ...] = ()
    limits: tuple[Limit, ...] = ()
    ammonium_share_at_most_percent: float | None = None
    urea: bool = False
    residual_alkalinity_meq_per_l: float | None = None
    ph: float | None = None
    ec_ms_per_cm: float | None = None
    ec_is_rise_over_water: bool = False
    crop: str | None = None


class Water(_Record, frozen=True):
    """A source water; nothing stated means pure water, and the plan says so.

    Its iron and manganese count towards the aim only where `credits_iron_and_manganese` says that they stay dissolved.
    """

    name: str = ""
    mg_per_l: WaterContents = WaterContents()
    ph: float | None = None
    ec_ms_per_cm: float | None = None
    temperature_c: float | None = None
    credits_iron_and_manganese: bool = False


class ShelfEntry(_Record, frozen=True):
    """One product on the shelf: a catalog salt or acid, or a bought blend ("blend:<own name>").

    A tank already mixed is a blend with `mixed_mmol_per_g`, which rules over its label, and `mixed_g_per_l` of products
    dissolved in a litre of it.
    """

    salt: str
    entry_id: str | None = None
    label_percent: LabelPercent = LabelPercent()
    strength_percent: float | None = None
    price_per_kg: float | None = None
    pack_kg: float | None = None
    priced_on: str | None = None
    at_least_mg_per_l: float | None = None
    at_most_mg_per_l: float | None = None
    exactly_mg_per_l: float | None = None
    mixed_mmol_per_g: TankContents = TankContents()
    mixed_g_per_l: float | None = None

    @property
    def key(self) -> str:
        """The entry's name within its shelf: `entry_id`, or the salt id where none was given."""
        return self.salt if self.entry_id is None else self.entry_id


class TankSetup(_Record, frozen=True):
    """The concentrate tanks; ratio 100 means 10 mL of each tank per litre of finished feed.

    `fill_water` "recipe": they are filled up with the recipe's own water (acid already in it where that goes first);
    "pure", or nothing: with rain or deionised water.
    """

    count: int = 2
    ratio: float = 100.0
    temperature_c: float = 20.0
    coldest_c: float | None = None
    pins: dict[str, str] = {}
    fill_water: Literal["recipe", "pure"] | None = None


class Scale(_Record, frozen=True):
    """A scale: the most it carries and the smallest step it shows."""

    capacity_g: float
    readability_g: float


class Batch(_Record, frozen=True):
    """How much concentrate is made at once and what it is weighed on."""

    tank_volume_l: float = 10.0
    scales: tuple[Scale, ...] = ()


class Recipe(_Record, frozen=True):
    """The whole document."""

    format: Literal["saltwright-recipe"]
    schema: Literal[1]
    shelf: tuple[ShelfEntry, ...]
    title: str = ""
    parent: str = ""
    currency: str = ""
    aim: Aim = Aim()
    water: Water = Water()
    second_water: Water | None = None
    second_water_share_percent: float = 0.0
    goal: Literal["closest", "cheapest", "fewest"] = "closest"
    acid_into: Literal["water", "tank", "reservoir"] | None = None
    tanks: TankSetup = TankSetup()
    batch: Batch = Batch()
