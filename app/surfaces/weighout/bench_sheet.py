"""Everything the surface shows of one batch, in words: made behind the window from recipe, plan and progress."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from msgspec import structs

from app.wording import figures, format_short, nutrient_word
from app.wording import weighout as say
from app.wording import weighout_batch as batch_words

if TYPE_CHECKING:
    from app.paper.blocks import WeightRow
    from app.paper.job import Job
    from app.session.weighing import Habits
    from core.bench.bottles import BottleFor
    from core.bench.repair_records import Repair
    from core.logbook.progress import Difference, Progress
    from core.logbook.reckoning import Reckoned
    from core.logbook.worklist import ToWeigh
    from core.plan.records import Plan, Tank
    from core.recipe.records import Recipe


class Line(NamedTuple):
    """One product of one tank in words.

    `weight`: what is to be put on the scale now; `more`: it is added to what is in. `was`: what is in, where that is
    not what was asked. `wear` and `hazards` of the product as it is bought, `rules` where it is an acid.
    """

    item: ToWeigh
    name: str
    within: str
    weight: str
    scale: str
    remark: str
    also: str
    goes: tuple[str, ...]
    was: str
    wear: str
    hazards: str
    rules: tuple[str, ...]
    done: bool
    more: bool
    in_ounces: bool


class TankSheet(NamedTuple):
    """One tank in words; `boxes` are its trace bottles, each a title and lines."""

    name: str
    title: str
    volume: str
    dose: str
    steps: tuple[str, ...]
    wear: str
    boxes: tuple[tuple[str, tuple[str, ...]], ...]


class BenchSheet(NamedTuple):
    """The whole surface; `outside` are boxes of what goes into no tank. `fault` says why there is nothing."""

    recipe: Recipe | None
    lines: tuple[Line, ...] = ()
    tanks: tuple[TankSheet, ...] = ()
    outside: tuple[tuple[str, tuple[str, ...]], ...] = ()
    reckoned: Reckoned | None = None
    changed: str = ""
    may_go_on: bool = True
    repair: str = ""
    in_range: bool = False
    makes: str = ""
    mark: str = ""
    fault: str = ""


def make_sheet(recipe: Recipe, plan: Plan, progress: Progress, habits: Habits) -> BenchSheet:
    """Return the surface's words; loads the engine where it is not there yet."""
    from app.paper.acid import acid_boxes
    from app.paper.job import job_for
    from core.logbook.progress import differences
    from core.logbook.reckoning import reckon
    from core.logbook.worklist import bottles_of
    from core.plan import solve

    blend = solve(recipe)
    job = job_for(recipe, blend, plan, habits.units)
    told = reckon(recipe, blend, plan, progress, None if habits.law == "none" else habits.law)
    bottles, changes = bottles_of(blend, plan), differences(progress, told.items)
    tanks = {tank.name: tank for tank in plan.tanks}
    numbered = {number: one for here in bottles.values() for number, one in here.items()}
    lines = tuple(_line(job, tanks[item.tank], item, progress, numbered) for item in told.items)
    return BenchSheet(
        recipe=recipe,
        lines=lines,
        tanks=tuple(_tank(job, tank, bottles[tank.name], progress) for tank in plan.tanks),
        outside=tuple((box.title, box.lines) for box in acid_boxes(job)),
        reckoned=told,
        changed=_changed(job, changes),
        may_go_on=all(one.now_g is not None for one in changes),
        repair="" if told.repair is None else _repair(job, told, told.repair),
        in_range=told.repair is None and any(line.was for line in lines),
        makes=_makes(job),
        mark=job.mark,
    )


def _line(job: Job, tank: Tank, item: ToWeigh, progress: Progress, bottles: dict[int, BottleFor]) -> Line:
    from app.paper.acid import wear
    from app.wording import paper
    from core.logbook.progress import is_done, to_add_g, weighed_g
    from core.logbook.worklist import each

    row, inside = _row(job, tank, item, progress, bottles), weighed_g(progress, item)
    off = inside is not None and abs(inside - item.planned_g) >= item.half_step_g
    keys = [one.entry_id for one in each((item,))]
    things, hazards = wear(keys, job), _hazards(job, keys)
    return Line(
        item=item,
        name=row.name,
        within=figures.within(row.name) if item.from_bottle else job.within(item.entry_id),
        weight=row.weight,
        scale=row.scale,
        remark=row.remark,
        also=row.also,
        goes=row.goes,
        was=say.was(_weight(job, item, inside)) if off and inside is not None else "",
        wear=say.protection(things) if things else "",
        hazards=say.hazards([figures.capital(hazards[0]), *hazards[1:]]) if hazards else "",
        rules=paper.acid_rules()[:1] if any(map(job.is_acid, keys)) else (),
        done=is_done(progress, item),
        more=to_add_g(progress, item) > 0.0,
        in_ounces=job.style.in_ounces(item.planned_g, item.step_g),
    )


def _row(job: Job, tank: Tank, item: ToWeigh, progress: Progress, bottles: dict[int, BottleFor]) -> WeightRow:
    """What paper says of an item, for the weight that is to go onto the scale now."""
    from app.paper.sheet import pour_row, weight_row
    from core.logbook.progress import to_add_g, wanted_g
    from core.logbook.worklist import volume_of

    if item.from_bottle:
        return pour_row(job, item.from_bottle, bottles[item.from_bottle])
    content = next(one for one in tank.contents if one.entry_id == item.entry_id)
    asked = to_add_g(progress, item) or wanted_g(progress, item)
    if asked != item.planned_g:
        content = structs.replace(content, grams=asked, grams_to_weigh=asked, millilitres=volume_of(item, asked))
    holding = ((number, one) for number, one in bottles.items() if item.entry_id in one.entry_ids)
    return weight_row(job, content, tank, next(holding, None))


def _hazards(job: Job, entry_ids: list[str]) -> list[str]:
    """The hazards of products as they are bought, each once."""
    from app.wording.words import catalog_words
    from core.bench.label_hazards import product_hazards

    sources = [job.sources[key] for key in entry_ids]
    found = [text for one in sources for text in product_hazards(one.entry.salt, one.strength_percent)]
    return [catalog_words(text) for text in dict.fromkeys(found)]


def _weight(job: Job, item: ToWeigh, grams: float) -> str:
    """A weight of an item on its scale, or a volume of what is measured out."""
    from core.logbook.worklist import volume_of

    poured = volume_of(item, grams)
    return job.style.weight(grams, item.step_g) if poured is None else job.style.millilitres(poured)


def _tank(job: Job, tank: Tank, bottles: dict[int, BottleFor], progress: Progress) -> TankSheet:
    from app.paper.acid import wear
    from app.paper.sheet import bottle_box, doses
    from app.paper.steps import tank_lines
    from app.wording import paper
    from core.logbook.progress import filled_volumes_l
    from core.logbook.worklist import measured_out

    larger = filled_volumes_l(progress, tank.volume_l).get(tank.name)
    poured = measured_out(tank, bottles)
    lines = tank_lines(job, tank if larger is None else structs.replace(tank, volume_l=larger), poured)
    boxes = [bottle_box(job, number, bottle) for number, bottle in bottles.items()]
    things = wear([content.entry_id for content in tank.contents], job)
    dose, also = doses(job, tank)
    return TankSheet(
        name=tank.name,
        title=job.tank_in_sentence(tank.name),
        volume=paper.tank_of(job.style.volume(tank.volume_l)),
        dose=f"{dose} {also}",
        steps=lines,
        wear=paper.wear(things) if things else "",
        boxes=tuple((box.title, (*box.lines, batch_words.date_it())) for box in boxes),
    )


def _makes(job: Job) -> str:
    if not job.plan.tanks:
        return ""
    volume = job.style.volume(job.plan.tanks[0].volume_l)
    return say.makes(len(job.plan.tanks), volume, job.style.volume(job.feed_l))


def _changed(job: Job, changes: tuple[Difference, ...]) -> str:
    if not changes:
        return ""
    told = []
    for one in changes:
        then = job.style.weight(one.then_g, _step_g(job, one.tank, one.entry_id))
        name = job.within(one.entry_id) if one.entry_id in job.sources else one.entry_id
        if one.now_g is None:
            told.append(batch_words.gone_from(name, then))
            continue
        now = job.style.weight(one.now_g, _step_g(job, one.tank, one.entry_id))
        told.append(batch_words.change_of(name, job.tank_in_sentence(one.tank), then, now))
    return batch_words.recipe_changed(told)


def _step_g(job: Job, tank: str, entry_id: str) -> float | None:
    contents = [content for one in job.plan.tanks if one.name == tank for content in one.contents]
    scale = next((content.scale for content in contents if content.entry_id == entry_id), None)
    return None if scale is None else scale.readability_g


def _repair(job: Job, told: Reckoned, repair: Repair) -> str:
    from core.recipe.records import NUTRIENTS

    worst = NUTRIENTS[repair.worst]
    row = next(band.row for band in told.bands if band.row.nutrient == worst)
    low, high = ("" if end is None else format_short(end) for end in (row.low_mg_per_l, row.high_mg_per_l))
    lead = batch_words.out_of_range(figures.capital(nutrient_word(worst)), format_short(row.feed_mg_per_l), low, high)
    clauses = _clauses(job, told, repair)
    if not clauses:
        return f"{lead} {batch_words.no_repair()}"
    tail = "" if repair.mended else f" {batch_words.only_nearer()}"
    return f"{lead} {batch_words.smallest_repair(clauses)}{tail}"


TOLD_AT_MOST = 3


def _clauses(job: Job, told: Reckoned, repair: Repair) -> list[str]:
    from core.logbook.worklist import each

    items = {item.place: item for item in each(told.items)}
    clauses = []
    for new in repair.weights:
        item, name = items[new.tank, new.entry_id], job.within(new.entry_id)
        if new.added_g is None:
            clauses.append(
                batch_words.weigh_other(name, _weight(job, item, new.grams), _weight(job, item, item.planned_g))
            )
        else:
            clauses.append(batch_words.add_to(name, _weight(job, item, new.added_g)))
    if len(clauses) > TOLD_AT_MOST:
        clauses = [batch_words.many_weights(len(clauses))]
    planned = job.style.volume(job.plan.tanks[0].volume_l)
    fills = [
        batch_words.fill_to(job.tank_in_sentence(new.tank), job.style.volume(new.litres), planned)
        for new in repair.volumes
    ]
    return [*fills, *clauses]
