"""The sentences of the Compare surface: ways to a variant, the table, cost against fit, shares, sensitivity."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.compare import bag_text
from app.wording.goals import goal_word, named
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_number, format_short
from app.wording.window import CURRENCY_SIGNS, untitled
from app.wording.words import nutrient_word, tank_title, verdict_word

if TYPE_CHECKING:
    from core.plan.costing import Bag

WAYS = {
    "goals": (marked("Closest, cheapest, fewest"), marked("Set this recipe beside itself for the two other goals")),
    "file": (marked("Add a recipe…"), marked("Set another recipe file beside this one; files can be dropped here too")),
    "keep": (
        marked("Keep as a variant"),
        marked("Keep the recipe as it is now and go on changing it beside this copy"),
    ),
    "adapt": (
        marked("Adapt…"),
        marked("A new recipe from this one: for another crop or water, from tanks already mixed"),
    ),
}

ACTS = {
    "open": marked("Open as the recipe"),
    "save": marked("Save as a new recipe…"),
    "remove": marked("Take out"),
    "copy": marked("Copy column"),
}

SECTIONS = {
    "amounts": marked("For 1000 L of feed"),
    "nutrients": marked("In the feed, mg/L"),
    "feed": marked("The feed"),
    "cost": marked("Cost"),
}

FIGURES = {
    "ec": marked("EC, mS/cm"),
    "ph": marked("pH, once aired"),
    "ammonium": marked("ammonium, % of N"),
    "missed": marked("out of range"),
    "tanks": marked("tanks, at their coldest"),
    "cautions": marked("cautions"),
    "per_1000_l": marked("per 1000 L"),
    "per_100_us_gal": marked("per 100 US gal"),
    "per_m2_season": marked("per m² and season"),
    "pays": marked("all bags together"),
}

CARDS = {
    "differs": marked("What differs"),
    "plot": marked("Cost against fit"),
    "shares": marked("Ratios and shares"),
    "sensitivity": marked("What a price or a tolerance would do"),
    "use": marked("What the bags are for"),
}


def way(name: str) -> tuple[str, str]:
    """Return the button of a way to a variant, and what it does."""
    text, tip = WAYS[name]
    return _(text), _(tip)


def act(name: str) -> str:
    """Return the button of what can be done with a variant."""
    return _(ACTS[name])


def section(name: str) -> str:
    """Return what stands over some rows of the table."""
    return _(SECTIONS[name])


def figure(name: str) -> str:
    """Return the name of a row of figures."""
    return _(FIGURES[name])


def card(name: str) -> str:
    """Return a card's title."""
    return _(CARDS[name])


def about() -> str:
    """Return what Compare is for, where nothing is compared yet."""
    return _(
        "Compare sets variants of a recipe side by side: what goes in, what the feed reaches, what it costs, "
        "which bags to buy, and what differs in words."
    )


def working() -> str:
    """Return that something is being worked out."""
    return _("Working it out…")


def turn(to_words: bool) -> str:
    """Return the button that shows the words in place of the table, or the table again, where both have no room."""
    return _("Show what differs") if to_words else _("Show the table")


def cancel() -> str:
    """Return the button that gives up what is being worked out."""
    return _("Cancel")


def failed(reason: str) -> str:
    """Return why there is no answer."""
    return _("Not worked out: {reason}.").format(reason=reason.rstrip("."))


def cannot_add(reason: str) -> str:
    """Return why a file was not added."""
    return _("Not added: {reason}.").format(reason=reason.rstrip("."))


def no_tanks() -> str:
    """Return why a recipe cannot be made from its tanks."""
    return _("the recipe plans no tanks, so there are none to start from")


def table_name() -> str:
    """Return what a screen reader calls the table."""
    return _("Variants side by side; Control and C copies the column chosen")


def this_recipe() -> str:
    """Return what the open recipe is called beside its variants."""
    return _("This recipe")


def variant_name(number: int) -> str:
    """Return what a variant kept without a name is called."""
    return _("Variant {number}").format(number=number)


def kind_words(kind: str, goal: str = "") -> str:
    """Return what a variant is, below its name."""
    if kind == "open":
        return _("open, {goal}").format(goal=goal_word(goal))
    kinds = {
        "kept": _("kept in memory"),
        "file": _("from a file"),
        "goal": _("this recipe, other goal"),
        "adapted": _("adapted, not saved"),
        "saved": _("adapted, saved"),
    }
    return kinds[kind]


def title_of(title: str) -> str:
    """Return a recipe's title, or what one without is called."""
    return title or untitled()


def name_label() -> str:
    """Return the label of a variant's name."""
    return _("Name")


def nutrient_row(nutrient: str) -> str:
    """Return the name of a nutrient's row."""
    return f"{figures.symbol(nutrient)}  {nutrient_word(nutrient)}"


def nutrient_copied(nutrient: str) -> str:
    """Return the name of a nutrient's row in a spreadsheet."""
    return _("{nutrient}, mg/L").format(nutrient=nutrient)


def amount_copied(product: str) -> str:
    """Return the name of a product's row in a spreadsheet."""
    return _("{product}, g per 1000 L").format(product=product)


def bag_copied(product: str) -> str:
    """Return the name of a product's bags in a spreadsheet."""
    return _("{product}, to buy").format(product=product)


def grams(mg_per_l: float) -> str:
    """Return an amount for 1000 L: 1 mg/L is 1 g in 1000 L."""
    return _("{number} g").format(number=format_number(mg_per_l))


def place_words(low: float | None, high: float | None, target: float | None, verdict: str) -> str:
    """Return what is wanted of a nutrient and how the feed stands, for a tool tip and a screen reader."""
    parts = [] if target is None else [_("target {target}").format(target=format_short(target))]
    if low is not None and high is not None and low > 0.0:
        parts.append(_("wanted {low} to {high}").format(low=format_short(low), high=format_short(high)))
    elif high is not None:
        parts.append(_("at most {high}").format(high=format_short(high)))
    elif low is not None:
        parts.append(_("at least {low}").format(low=format_short(low)))
    return ", ".join([*parts, verdict_word(verdict)])


VERDICTS = ("settles", "doubtful", "clear")
"""From the worst on."""


def tanks_words(verdicts: tuple[str, ...]) -> str:
    """Return how many tanks there are and how the worst of them stands."""
    worst = next((verdict for verdict in VERDICTS if verdict in verdicts), None)
    if worst is None:
        return _("none")
    return _("{count}, {verdict}").format(count=len(verdicts), verdict=verdict_word(worst))


def tanks_told(contents: tuple[str, ...], verdicts: tuple[str, ...]) -> str:
    """Return how each tank stands."""
    pairs = zip(contents, verdicts, strict=True)
    return "; ".join(
        _("{tank}: {verdict}").format(tank=tank_title(content), verdict=verdict_word(verdict))
        for content, verdict in pairs
    )


def cautions_words(stops: int, checks: int) -> str:
    """Return how many cautions say stop and how many say check."""
    parts = [_("{count} to stop").format(count=stops)] if stops else []
    parts += [_("{count} to check").format(count=checks)] if checks else []
    return ", ".join(parts) or _("none")


def litres_of_tank(ml_per_l: float) -> str:
    """Return how much of a tank already mixed goes into 1000 L of feed."""
    return _("{litres} L").format(litres=format_number(ml_per_l))  # a millilitre per litre is a litre per 1000 L


def as_mixed() -> str:
    """Return that a tank stands ready mixed."""
    return _("as mixed")


def missed_words(count: int) -> str:
    """Return how many targets are out of range."""
    return _("none") if not count else str(count)


def money(amount: float, currency: str) -> str:
    """Return an amount of money: "1.83 €"."""
    sign = CURRENCY_SIGNS.get(currency, currency)
    return f"{format_decimals(amount, 2)} {sign}".strip()


def unknown_cost() -> str:
    """Return what stands in place of a cost that cannot be known."""
    return _("price missing")


def missing_words(missing: tuple[str, ...]) -> str:
    """Return which prices are missing."""
    return _("without the price of {salts}").format(salts=named(missing))


def not_used() -> str:
    """Return that a variant does without a product."""
    return _("not used")


def bags_unknown() -> str:
    """Return why the bags cannot be paid together."""
    return _("a pack's size or its price is missing")


def bag_told(bag: Bag, currency: str) -> str:
    """Return all about the bags of a product."""
    return bag_text(bag, currency)


def bag_cell(bag: Bag) -> str:
    """Return what to buy of a product: "1 × 25 kg, 21.9 left"."""
    if bag.packs is None or bag.pack_kg is None or bag.left_over_kg is None:
        return _("{kg} kg").format(kg=format_number(bag.needed_kg))
    return _("{packs} × {pack} kg, {left} left").format(
        packs=bag.packs, pack=format_short(bag.pack_kg), left=format_short(bag.left_over_kg)
    )


def bags_heading(feed_l: float) -> str:
    """Return what stands over the bags."""
    return _("To buy for {litres} L of feed").format(litres=format_short(feed_l, 4))


def beside(name: str, first: str) -> str:
    """Return what is set beside what."""
    return _("{name}, beside {first}:").format(name=name, first=figures.within(first))


def all_differing(count: int) -> str:
    """Return the link that tells all that differs."""
    return _("All {count} differences").format(count=count)


def nothing_differs() -> str:
    """Return that two variants are the same."""
    return _("Nothing differs.")


def only_one() -> str:
    """Return what to do to see what differs."""
    return _("Choose a column to see how it differs from this recipe.")
