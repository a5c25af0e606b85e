"""The sentences around dosing a reservoir: amounts, readings, steps, and what to mind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures, paper
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_number, format_short
from app.wording.phrases import product_name
from app.wording.safety import things_to_wear
from app.wording.words import joined, salt_in_sentence, tank_title

if TYPE_CHECKING:
    from core.bench.meter import Meter
    from core.plan.feeding_records import Drop, Feeding, Order, Pour, Remark, Step
    from core.units.formats import System

SCALES = {
    "mS/cm": marked("mS/cm"),
    "µS/cm": marked("µS/cm"),
    "CF": marked("CF"),
    "ppm-500": marked("ppm (500)"),
    "ppm-640": marked("ppm (640)"),
    "ppm-700": marked("ppm (700)"),
}
"""Scales of meters, as the window offers them."""

DECIMALS = {"mS/cm": 2, "dS/m": 2, "mmho/cm": 2, "CF": 1, "S/m": 3}
"""Decimals a reading is told with; scales that are not here go by whole numbers."""

TITLES = {
    "silicate": marked("Silicate first"),
    "acid-first": marked("Acid into the water, before the tanks"),
    "pour-first": marked("Pour most of it"),
    "pour-rest": marked("Pour the rest"),
    "add-water": marked("Add water"),
    "read": marked("Stir, wait, read"),
    "read-ph": marked("Read the pH"),
    "acid": marked("A little acid"),
    "base": marked("A little base"),
    "finish": marked("It stands: write it down"),
}

REMARKS = {
    "water-reads-off": marked(
        "This water reads {read_ms_per_cm} mS/cm, its report makes {report_ms_per_cm}. Is it this water, and the right "
        "scale of the meter? The pours go by what you read."
    ),
    "no-rise": marked(
        "The meter reads {read_ms_per_cm} mS/cm where {expected_ms_per_cm} was expected: it hardly moved. Stir, wait "
        "and read again before pouring more; look at the scale and the probe."
    ),
    "factor-doubtful": marked(
        "The EC rose {factor} times as much as foretold, which no meter explains. Stir, wait and read again before "
        "anything else goes in: is it the right tank, volume and scale?"
    ),
    "factor-odd": marked(
        "The EC rose {factor} times as much as foretold, which no meter explains: look at tank, volume and scale. It "
        "goes on by what you read."
    ),
    "factor-twice": marked(
        "Read twice, the EC rose {factor} times as much as foretold. It goes on by what you read; find out why, and "
        "look at tank, volume and scale, before the next reservoir."
    ),
    "water-too-strong": marked(
        "It is too strong, and the water at hand ({water_ms_per_cm} mS/cm) cannot thin it to {wanted_ms_per_cm}. Take "
        "purer water, or want more."
    ),
    "out-of-reach": marked(
        "No dose of these tanks gives {wanted_ms_per_cm} mS/cm in this water. Look at the figure wanted."
    ),
    "ph-out-of-reach": marked(
        "From pH {ph} this product does not get to the pH wanted. Choose another, or a stronger one."
    ),
}


def scales() -> list[tuple[str, str]]:
    """Return the scales of meters to choose from."""
    return [(key, _(text)) for key, text in SCALES.items()]


def scale(unit: str) -> str:
    """Return a scale's name for people."""
    return _(SCALES[unit]) if unit in SCALES else unit


def volume(litres: float, system: System) -> str:
    """Return a volume in the units she uses: "33.4 US fl oz", "987 mL"."""
    from core.units import format_volume

    return format_volume(litres, system)


def millilitres(ml: float, system: System) -> str:
    """Return a small volume in the units she uses."""
    return volume(ml / 1000.0, system)


def amount(drop: Drop, system: System) -> str:
    """Return an amount of acid or base: always in mL or g, which is what syringes and small scales show."""
    del system
    return _("{number} {unit}").format(number=format_number(drop.amount, 3 if drop.amount >= 10 else 2), unit=drop.unit)


def product(drop: Drop) -> str:
    """Return an acid or base with its strength: "Phosphoric acid 85 %"."""
    return product_name(drop.salt, drop.key, drop.strength_percent)


def product_within(drop: Drop) -> str:
    """Return an acid or base as it stands in a sentence."""
    return figures.within(product(drop))


def ms_per_cm(ec: float) -> str:
    """Return an EC at 25 °C."""
    return _("{number} mS/cm").format(number=format_decimals(ec, 2))


def number_on(ec: float, meter: Meter) -> str:
    """Return what a meter shows for an EC, the number alone."""
    return format_decimals(meter.shows(ec), DECIMALS.get(meter.unit, 0))


def reading(ec: float, meter: Meter) -> str:
    """Return what a meter shows for an EC at 25 °C: "910 ppm (700)"."""
    return _("{number} {scale}").format(number=number_on(ec, meter), scale=scale(meter.unit))


def reading_and_ec(ec: float, meter: Meter) -> str:
    """Return what a meter shows, and the EC at 25 °C where that says something else: "910 ppm (700), 1.30 mS/cm"."""
    shown = reading(ec, meter)
    if meter.unit in ("mS/cm", "µS/cm") and meter.compensates:
        return shown
    return _("{shown}, {ec}").format(shown=shown, ec=ms_per_cm(ec))


def ph(value: float) -> str:
    """Return a pH."""
    return _("pH {number}").format(number=format_decimals(value, 1))


def equal(pours: tuple[Pour, ...]) -> bool:
    """Return whether the parts go in equal amounts, so that one figure says it all."""
    return len(pours) > 1 and len({round(pour.ml, 6) for pour in pours}) == 1


def part(content: str) -> str:
    """Return a part as it stands behind its amount."""
    return _("of the {part}").format(part=tank_title(content))


def pours_text(pours: tuple[Pour, ...], system: System) -> str:
    """Return what was poured: "33.4 US fl oz of each", or every part with its own amount."""
    if equal(pours):
        return _("{amount} of each").format(amount=millilitres(pours[0].ml, system))
    return joined([f"{millilitres(pour.ml, system)} {part(pour.content)}" for pour in pours])


def other_units(pours: tuple[Pour, ...], system: System) -> str:
    """Return in millilitres what was told in ounces, for whoever pours with a metric jug."""
    if system == "metric":
        return ""
    if equal(pours):
        return _("{amount} of each.").format(amount=millilitres(pours[0].ml, "metric"))
    return _("{amounts}.").format(amounts=joined([millilitres(pour.ml, "metric") for pour in pours]))


def rounded(number: float) -> float:
    """Return an amount as it is told, to be typed over."""
    return float(f"{number:.4g}")


def title(step: Step, holds: str = "water") -> str:
    """Return what a step is called."""
    if step.kind == "read-start":
        return _("Read the water") if holds == "water" else _("Read what is left")
    words = _(TITLES[step.kind])
    if step.of > 1 and step.state == "now":
        return _("{step}, {number} of {of}").format(step=words, number=step.number, of=step.of)
    return words


def done_text(step: Step, system: System, meter: Meter) -> str:
    """Return a step as it was done."""
    if step.skipped:
        return _("left out")
    if step.pours:
        return _("{amounts}, stirred").format(amounts=pours_text(step.pours, system))
    if step.drop is not None:
        return _("{amount} of {product}").format(amount=amount(step.drop, system), product=product_within(step.drop))
    if step.water_l is not None:
        return volume(step.water_l, system)
    parts = []
    if step.read_ms_per_cm is not None:
        parts.append(reading_and_ec(step.read_ms_per_cm, meter))
    if step.read_ph is not None:
        parts.append(ph(step.read_ph))
    if step.factor is not None and step.expected_ms_per_cm is not None:
        expected = number_on(step.expected_ms_per_cm, meter)
        parts.append(_("expected {expected}").format(expected=expected))
    elif step.expected_ph is not None and step.read_ph is not None:
        parts.append(_("expected {expected}").format(expected=format_decimals(step.expected_ph, 1)))
    return _("{parts}").format(parts=", ".join(parts))


def coming_text(step: Step, system: System, meter: Meter) -> str:
    """Return what a step ahead will be, as far as it is known."""
    if step.pours:
        return _("about {amounts}").format(amounts=pours_text(step.pours, system))
    if step.drop is not None:
        said = _("about {amount} of {product} each time") if step.of > 1 else _("about {amount} of {product}")
        told = said.format(amount=amount(step.drop, system), product=product_within(step.drop))
        return " ".join(filter(None, (f"{told}." if (worn := wear(step.drop.salt)) else told, worn)))
    if step.water_l is not None:
        return _("about {volume}").format(volume=volume(step.water_l, system))
    if step.kind == "read" and step.expected_ms_per_cm is not None:
        return _("should show {reading}").format(reading=reading(step.expected_ms_per_cm, meter))
    if step.kind == "read-ph" and step.expected_ph is not None:
        return _("only once EC stands; about {ph}").format(ph=ph(step.expected_ph))
    return ""


def expect_text(step: Step, meter: Meter) -> str:
    """Return what the meter should show after a step."""
    if step.expected_ms_per_cm is not None:
        return _("It should then show {reading}.").format(reading=reading_and_ec(step.expected_ms_per_cm, meter))
    if step.expected_ph is not None:
        return _("It should then read {ph}.").format(ph=ph(step.expected_ph))
    return ""


def read_text(step: Step, meter: Meter) -> str:
    """Return what is expected of a reading that is due."""
    if step.kind == "read-ph":
        if step.expected_ph is None:
            return ""
        return _("Should read about {ph}, before air drives its carbonic acid out.").format(ph=ph(step.expected_ph))
    if step.expected_ms_per_cm is None:
        return ""
    if step.kind == "read-start":
        return _("By its report about {reading}.").format(reading=reading(step.expected_ms_per_cm, meter))
    return _("Should show {reading}.").format(reading=reading_and_ec(step.expected_ms_per_cm, meter))


def over_text(step: Step, system: System, meter: Meter) -> str:
    """Return what to do where a reading comes out too high."""
    if step.over_ms_per_cm is None or step.water_per_tenth_l is None:
        return ""
    tenth = number_on(0.1, meter) if meter.compensates else format_decimals(0.1, 1)
    return _("If it shows more than {reading}, water is to be added: {water} for every {tenth} over.").format(
        reading=number_on(step.over_ms_per_cm, meter), water=volume(step.water_per_tenth_l, system), tenth=tenth
    )


def in_all_text(told: Feeding, system: System) -> str:
    """Return how much of each part it will be in all, once the curve says so."""
    curve = told.curve
    if curve is None or curve.wanted is None:
        return ""
    each = millilitres(curve.wanted[0], system)
    if curve.equal:
        return _("{amount} of each in all, as foretold.").format(amount=each)
    return _("{amount} {part} in all, the others in step.").format(amount=each, part=part(curve.lead_content))


def factor_text(told: Feeding) -> str:
    """Return what the tanks give over the forecast, where that is known."""
    number = format_decimals(told.factor, 2)
    if told.factor_measured and not told.factor_kept:
        return _("They gave {factor} of the forecast; counted with for this reservoir alone.").format(factor=number)
    if told.factor_measured:
        return _("Your tanks give {factor} of the forecast; used from now on.").format(factor=number)
    if abs(told.factor - 1.0) >= 0.005:
        return _("Your tanks gave {factor} of the forecast before; counted with.").format(factor=number)
    return ""


def volume_text(told: Feeding, system: System) -> str:
    """Return how much feed it will be with all that is poured in."""
    return _("Volume is counted with what you pour in: {volume} in the end.").format(
        volume=volume(told.volume_end_l, system)
    )


def order_text(order: Order) -> str:
    """Return why acid goes first or last in this water."""
    alkalinity = format_short(order.alkalinity_meq_per_l, 2)
    before, after = _times(order.brushite_without), _times(order.brushite_with)
    if order.acid_first and before and after:
        return _(
            "Hard water ({alkalinity} meq/L of alkalinity): acid first. Without it calcium phosphate would stand at "
            "{before} of what stays dissolved once the tanks are in, with it at {after}."
        ).format(alkalinity=alkalinity, before=before, after=after)
    if order.acid_first:
        return _("Hard water ({alkalinity} meq/L of alkalinity): acid first, or it may cloud.").format(
            alkalinity=alkalinity
        )
    if before:
        return _(
            "EC first, then pH: the feed itself pulls the pH down, and at {before} of what stays dissolved calcium "
            "phosphate does not cloud without acid."
        ).format(before=before)
    return _("EC first, then pH: the feed itself pulls the pH down, so acid poured sooner would be too much.")


def _times(index: float | None) -> str:
    """Return a saturation index as per cent of what stays dissolved."""
    if index is None:
        return ""
    return _("{percent} %").format(percent=format_number(100.0 * 10.0**index, 2))


def remark(one: Remark) -> str:
    """Return what is to be said about how it goes."""
    words = {name: format_decimals(value, 1 if name == "ph" else 2) for name, value in one.data.items()}
    return _(REMARKS[one.code]).format(**words)


def acid_care(*salts: str) -> str:
    """Return what to wear and what to mind with acids or bases in hand, the first thing to do first."""
    rule = _("{product}: always the chemical into the water, slowly, stirring; never the other way.")
    rules = [rule.format(product=figures.capital(salt_in_sentence(salt))) for salt in salts]
    return " ".join(filter(None, (wear(*salts), *rules)))


def wear(*salts: str) -> str:
    """Return what to wear for acids or bases; "" where nothing is known."""
    things = things_to_wear(salts)
    return paper.acid_wear(things) if things else ""
