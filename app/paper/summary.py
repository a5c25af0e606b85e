"""The recipe summary: what the feed holds, what goes in, what it rests on, how it was worked out, and the sources."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from app.paper.assumptions import assumed
from app.paper.blocks import Block, Bullets, Heading, Line, Part, Table, Together
from app.paper.job import Job
from app.paper.sources import source_lines
from app.paper.text import foreign
from app.wording import format_number, format_short, joined, level_word, place_word, verdict_word
from app.wording import paper as shared_words
from app.wording import paper_parts as say
from app.wording.figures import capital
from app.wording.phrases import cost_text, ec_text, ph_text, tank_verdict_text
from core.blend.working import Line as WorkingLine
from core.blend.working import nutrient_working
from core.plan.records import Amount, NutrientRow, Tank
from core.recipe.records import Water


def summary(job: Job) -> Part:
    """Return the recipe summary."""
    heads = say.headings()
    blocks: list[Block | Together] = [
        Line(say.recipe_line(job.mark, job.style.volume(job.feed_l)), "small"),
        Together((Heading(heads["feed"]), _feed(job))),
        Together((Heading(heads["forecast"]), *_forecast(job))),
        Together((Heading(heads["amounts"]), _amounts(job))),
        *_tanks(job, heads["tanks"]),
        Together((Heading(heads["water"]), *_water(job))),
        *_cautions(job, heads["cautions"]),
        Heading(heads["assumptions"]),
        Bullets(tuple(capital(one) for one in assumed(job))),
        Heading(heads["working"]),
        Bullets(tuple(_working(job))),
        Heading(heads["sources"]),
        Bullets(source_lines(job)),
        Line(say.end_note(), "small"),
    ]
    return Part("summary", say.summary_title(job.title), tuple(blocks))


def _feed(job: Job) -> Table:
    rows = tuple(_nutrient(row) for row in job.plan.rows)
    return Table(say.feed_head(), rows, frozenset({1, 2, 3, 4}))


def _nutrient(row: NutrientRow) -> tuple[str, ...]:
    word = verdict_word(row.verdict) if row.target_mg_per_l is not None or row.verdict != "fine" else ""
    target = "" if row.target_mg_per_l is None else format_short(row.target_mg_per_l)
    return (row.nutrient, target, _range(row), _mg(row.water_mg_per_l), _mg(row.feed_mg_per_l), word)


def _range(row: NutrientRow) -> str:
    low, high = row.low_mg_per_l, row.high_mg_per_l
    if low is not None and high is not None:
        return f"{format_short(low)}\N{EN DASH}{format_short(high)}"
    if high is not None:
        return f"≤ {format_short(high)}"
    return "" if low is None else f"≥ {format_short(low)}"


def _mg(value: float) -> str:
    return format_number(value) if value else "0"


def _forecast(job: Job) -> tuple[Line, ...]:
    missing = tuple(foreign(key) for key in job.plan.cost.missing)
    cost = replace(job.plan.cost, currency=foreign(job.plan.cost.currency), missing=missing)
    told = (ec_text(job.plan.feed), ph_text(job.plan.feed), say.cost_line(cost_text(cost)))
    return tuple(Line(text) for text in told)


def _amounts(job: Job) -> Table:
    rows = tuple(_amount(job, amount) for amount in job.plan.amounts)
    return Table(say.amounts_head(), rows, frozenset({1, 2}))


def _amount(job: Job, amount: Amount) -> tuple[str, ...]:
    ml = amount.ml_in(1000.0)
    per_1000_l = f"{format_number(amount.grams_in(1000.0), 4)} g" if ml is None else f"{format_number(ml, 4)} mL"
    if amount.shares:
        place = joined([job.tank_in_sentence(name) for name in amount.shares])
    else:
        place = "" if amount.tank is None else place_word(amount.tank)
    return (job.name(amount.entry_id), format_number(amount.mg_per_l, 4), per_1000_l, place)


def _tanks(job: Job, heading: str) -> list[Together]:
    if not job.plan.tanks:
        return []
    lines = tuple(Line(f"{job.tank(tank)}: {tank_verdict_text(_rounded(tank))}") for tank in job.plan.tanks)
    return [Together((Heading(heading), *lines))]


def _rounded(tank: Tank) -> Tank:
    """The strength limit to three digits: the model knows no more."""
    limit = tank.ratio_limit
    return tank if limit is None else replace(tank, ratio_limit=float(f"{limit:.3g}"))


def _water(job: Job) -> Iterator[Line]:
    recipe = job.recipe
    yield from _one_water(recipe.water)
    if recipe.second_water is not None:
        share = format_short(recipe.second_water_share_percent)
        yield Line(say.blended(foreign(recipe.second_water.name), share))
        yield from _one_water(recipe.second_water)


def _one_water(water: Water) -> Iterator[Line]:
    contents = ", ".join(f"{name} {format_short(mg)}" for name, mg in water.mg_per_l.items())
    if water.name:
        yield Line(foreign(water.name))
    if not contents:
        yield Line(capital(shared_words.assumption("pure")))
        return
    unknown = say.not_reported()
    ph = unknown if water.ph is None else format_short(water.ph)
    ec = unknown if water.ec_ms_per_cm is None else format_short(water.ec_ms_per_cm)
    yield Line(say.water_line(contents, ph, ec))


def _cautions(job: Job, heading: str) -> list[Block]:
    lines = tuple(f"{level_word(one.level).upper()}: {job.caution(one)}" for one in job.plan.cautions)
    return [Heading(heading), Bullets(lines)] if lines else []


def _working(job: Job) -> Iterator[str]:
    """One line per nutrient the feed holds: what brings it, and the sum."""
    for row in job.plan.rows:
        if row.feed_mg_per_l > 0.0:
            *parts, total = nutrient_working(job.blend, row.nutrient).lines
            told = " + ".join(_part(job, line) for line in parts)
            yield say.working_line(row.nutrient, told, format_short(total.result.value, 4))


def _part(job: Job, line: WorkingLine) -> str:
    brings = format_short(line.result.value, 4)
    if not line.numbers:
        return say.working_water(brings)
    amount, content = (format_short(number.value, 4) for number in line.numbers)
    return say.working_product(brings, amount, content, job.within(line.about))
