"""The weigh-out sheet of one batch."""

from __future__ import annotations

from app.paper import amounts as figures
from app.paper.acid import acid_boxes, wear
from app.paper.assumptions import assumed
from app.paper.blocks import Block, Box, Line, Part, Steps, TankHead, Together, WeightRow, Weights
from app.paper.job import Job
from app.paper.steps import tank_lines
from app.wording import format_decimals, format_short, joined
from app.wording import paper as say
from core.bench.bottles import BottleFor
from core.logbook.worklist import bottles_of, contents_in_order, fits_scale, loads_of, measured_out
from core.plan.records import Caution, Tank, TankContent

FIRST, LAST = ("water",), ("reservoir", "tank")
"""Places of acid whose boxes stand before the tanks, and after them: the order in which it is poured."""

IN_THE_BOX = frozenset({"acid-handling", "acid-first", "scale-trace"})
"""Cautions the sheet tells in boxes of their own."""


def sheet(job: Job) -> Part:
    """Return the weigh-out sheet."""
    head = [Line(say.byline(job.mark, job.style.volume(job.feed_l)), "small")] if job.plan.tanks else []
    things = wear([c.entry_id for tank in job.plan.tanks for c in tank.contents if not job.is_acid(c.entry_id)], job)
    head += [Line(say.wear(things), "small")] if things else []
    bottles = bottles_of(job.blend, job.plan)
    tanks = [_tank(job, tank, bottles.get(tank.name, {})) for tank in job.plan.tanks]
    first, last = acid_boxes(job, FIRST), acid_boxes(job, LAST)
    end: list[Block | Together] = [*last, Together(tuple(_closing(job)))]
    if not tanks and not first and not last:
        end = [Line(say.nothing_to_weigh(), "strong")]
    return Part("sheet", say.weigh_out_title(job.title), (*head, *_bench(job), *_warnings(job), *first, *tanks, *end))


Numbered = tuple[int, BottleFor]
"""A trace bottle and its number on this sheet."""


def weight_row(job: Job, content: TankContent, tank: Tank, bottle: Numbered | None = None) -> WeightRow:
    """Return one product of a tank as a row; `bottle` is the trace bottle it may come from."""
    name, scale, grams = job.name(content.entry_id), content.scale, f"{content.grams_to_weigh:.10g}"
    if content.millilitres is not None:
        weight = say.or_weigh(_weight(job, content))
        return WeightRow(name, _shared(job, content, tank), _poured(content.millilitres), say.measured(), weight)
    remarks = [_shared(job, content, tank), "" if fits_scale(content) else say.too_small(), _better(bottle)]
    remark = "; ".join(one for one in remarks if one)
    if scale is None:
        return WeightRow(name, remark, _weight(job, content), say.any_scale(), grams=grams)
    step = scale.readability_g
    ounces = job.style.in_ounces(content.grams_to_weigh, step)
    called = say.scale_called(figures.capacity(scale.capacity_g, in_ounces=ounces), figures.step(step))
    goes = _goes(job, content, step)
    return WeightRow(name, remark, _weight(job, content), called, _also(job, content, step), goes, grams)


def pour_row(job: Job, number: int, bottle: BottleFor) -> WeightRow:
    """Return one pour out of a trace bottle, with everything that is in it."""
    holds = joined([job.within(key) for key in bottle.entry_ids])
    return WeightRow(
        say.called_bottle(number),
        say.bottle_holds(holds, len(bottle.entry_ids)),
        _poured(bottle.bottle.aliquot_ml),
        say.measured(),
    )


def _weight(job: Job, content: TankContent) -> str:
    if not fits_scale(content):
        return f"{format_short(content.grams)} g"
    return job.style.weight(content.grams_to_weigh, None if content.scale is None else content.scale.readability_g)


def _better(bottle: Numbered | None) -> str:
    return "" if bottle is None else say.or_bottle(_poured(bottle[1].bottle.aliquot_ml), bottle[0])


def _poured(ml: float) -> str:
    return f"{figures.grouped(format_short(ml))} mL"


def _also(job: Job, content: TankContent, step: float) -> str:
    """A weight in pounds and ounces once more, in ounces and in grams."""
    if not job.style.in_ounces(content.grams_to_weigh, step):
        return ""
    grams = figures.Style("metric").weight(content.grams_to_weigh, max(step, 1.0) if step < 1.0 else 1.0)
    return f"= {figures.ounces(content.grams_to_weigh, step)}, {grams}"


def _goes(job: Job, content: TankContent, step: float) -> tuple[str, ...]:
    loads = loads_of(content)
    return tuple(job.style.weight(load, step) for load in loads) if len(loads) > 1 else ()


def _shared(job: Job, content: TankContent, tank: Tank) -> str:
    shares = next((a.shares for a in job.plan.amounts if a.entry_id == content.entry_id), {})
    others = [name for name in shares if name != tank.name]
    if not others:
        return ""
    here = format_short(100.0 * shares.get(tank.name, 0.0), 2)
    return say.shared(here, joined([job.tank_in_sentence(name) for name in others]))


def _tank(job: Job, tank: Tank, bottles: dict[int, BottleFor]) -> Together:
    held = {key: (number, bottle) for number, bottle in bottles.items() for key in bottle.entry_ids}
    contents = contents_in_order(tank, bottles)
    poured = measured_out(tank, bottles)
    rows: dict[object, WeightRow] = {}
    for content in contents:
        numbered = held.get(content.entry_id)
        if numbered is not None and content.entry_id in poured:
            rows.setdefault(numbered[0], pour_row(job, *numbered))  # one pour brings all that is in the bottle
        else:
            rows[content.entry_id] = weight_row(job, content, tank, numbered)
    boxes = [bottle_box(job, number, bottle) for number, bottle in bottles.items()]
    lines = tank_lines(job, tank, poured)
    return Together((tank_head(job, tank), Weights(tuple(rows.values())), *boxes, Steps(lines)))


def tank_head(job: Job, tank: Tank) -> TankHead:
    """Return a tank's name with its volume and its dose."""
    return TankHead(job.tank(tank), say.tank_of(job.style.volume(tank.volume_l)), *doses(job, tank))


def doses(job: Job, tank: Tank) -> tuple[str, str]:
    """Return a tank's dose in the leading system, and in the other one with the ratio."""
    ml, fl_oz = figures.dose_per_litre(tank.ratio), figures.dose_per_gallon(tank.ratio)
    ratio = format_short(tank.ratio, 4)
    if job.style.us_volumes:
        return say.per_gallon(fl_oz), say.also_dose(say.short_per_litre(ml), ratio)
    return say.per_litre(ml), say.also_dose(say.short_per_gallon(fl_oz), ratio)


def bottle_box(job: Job, number: int, bottle: BottleFor) -> Box:
    """Return how a trace bottle is made and used."""
    step, plan = bottle.scale.readability_g, bottle.bottle
    names = [job.within(key) for key in bottle.entry_ids]
    weights = [job.style.weight(grams, step) for grams in plan.grams_to_dissolve]
    pairs = ", ".join(f"{name} {weight}" for name, weight in zip(names, weights, strict=True))
    lines = [
        say.bottle_weigh(pairs, job.style.millilitres(plan.bottle_ml)),
        say.bottle_use(job.style.millilitres(plan.aliquot_ml), joined(names), plan.times),
    ]
    return Box(say.bottle_title(number), tuple(lines if plan.good_enough else [*lines, say.bottle_not_enough()]))


def _bench(job: Job) -> list[Box]:
    """What is in already or wanted otherwise than in the rows below, which are the plan's."""
    return [Box(say.bench_title(), job.bench, loud=True)] if job.bench else []


def _warnings(job: Job) -> list[Box]:
    """What must be put right, and what to look at, before anything is weighed."""
    boxes = []
    for level, title in (("stop", say.stop_title()), ("check", say.check_title())):
        texts = tuple(job.caution(one) for one in job.plan.cautions if one.level == level and _is_told(one))
        if texts:
            boxes.append(Box(title, texts, loud=level == "stop"))
    return boxes


def _is_told(caution: Caution) -> bool:
    return caution.code not in IN_THE_BOX


def _closing(job: Job) -> list[Block]:
    return [Line(gives(job), "strong"), Line(say.assumes("; ".join(assumed(job))), "small")]


def gives(job: Job) -> str:
    """Return what the meters should show."""
    feed = job.plan.feed
    if feed.ec_ms_per_cm is None or feed.ph is None or feed.ph_aired is None:
        return say.gives_unknown()
    ec, band = feed.ec_ms_per_cm, feed.ec_ms_per_cm * feed.ec_band_percent / 100.0
    ph, aired = format_decimals(feed.ph, 1), format_decimals(feed.ph_aired, 1)
    return say.should_give(format_decimals(ec, 2), format_decimals(band, 2), ph, aired)
