"""Sentences that answer "why?": one short one per thing, worst first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from app.wording.figures import DASH
from app.wording.fill import fill
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import MINUS, format_decimals, format_number, format_short
from app.wording.window import CURRENCY_SIGNS
from app.wording.words import joined, nutrient_word, salt_in_sentence

if TYPE_CHECKING:
    from core.blend.why_records import Cause, Change, Price, Reason, Remedy, Side, Spare, Step, Unused
    from core.blend.working import Line, Number

LEAST_MONEY, LEAST_STEP_MONEY = 0.005, 0.001
"""A change of 1000 L's cost by less is not worth telling; of a step, which is a hundredth, by a fifth of that (own
choices)."""

REASON_SENTENCES = {
    "short": marked("{nutrient} stands at {feed_mg_per_l}; at least {low_mg_per_l} is wanted."),
    "over": marked("{nutrient} stands at {feed_mg_per_l}; at most {high_mg_per_l} is wanted."),
}

CAUSE_SENTENCES = {
    "water": marked("The water alone brings {water_mg_per_l}, and no salt takes it out."),
    "fixed": marked("The amounts you fixed bring {fixed_mg_per_l} with the water: {entry_ids}."),
    "no-source": marked("Nothing on the shelf brings it."),
    "not-allowed": marked("Only {entry_ids} would bring it, which this aim does not allow."),
    "limit": marked("The limit on {nutrient} holds it."),
    "chloride": marked("The usual limit on added chloride holds it."),
    "ammonium-share": marked("The limit on ammonium's share of the nitrogen holds it."),
    "entry": marked("The bound you gave {entry_id} holds it."),
    "alkalinity": marked("It follows from the acid or base that brings the alkalinity to {goal_meq_per_l}."),
    "comes-with": marked("{entry_id} brings {brings_mg_per_l} of it, along with the {nutrient} it is there for."),
    "comes-with-alone": marked("{entry_id} brings {brings_mg_per_l} of it."),
    "at-odds": marked("More of it would take {nutrient} from {before_mg_per_l} to {after_mg_per_l}."),
}

STEP_SENTENCES = {
    "add-salt": marked("put {salt} on the shelf"),
    "drop-entry": marked("leave out {entry_id}"),
    "raise-limit": marked("let {thing} go up to {value_mg_per_l}"),
    "ammonium-share": marked("allow {value_percent} of the nitrogen as ammonium"),
    "residual-alkalinity": marked("leave {value_meq_per_l} of alkalinity"),
    "purer-water": marked("blend in {value_percent} of {about}"),
}

UNUSED_SENTENCES = {
    "price": marked("{entry_id} would be used below {price} per kg"),
    "price-known": marked("{entry_id} would be used below {price} per kg; it costs {now}"),
    "no-price-helps": marked("{entry_id} would not be used at any price: the blend fits better without it"),
    "not-allowed": marked("{entry_id} may not be used under this aim"),
    "prices-missing": marked("{entry_id} is not needed; enter prices to see from which price it would be"),
    "count": marked("{entry_id} is not needed for the fewest salts"),
}


def reason_text(reason: Reason) -> str:
    """Return what is off: "Potassium stands at 199 mg/L; at least 238 mg/L is wanted."."""
    data = {"nutrient": reason.nutrient, "feed_mg_per_l": reason.feed_mg_per_l}
    ends = {"low_mg_per_l": reason.low_mg_per_l, "high_mg_per_l": reason.high_mg_per_l}
    return fill(_(REASON_SENTENCES[reason.verdict]), data | ends)


def cause_text(cause: Cause) -> str:
    """Return one thing that holds a nutrient where it is."""
    code = "comes-with-alone" if cause.code == "comes-with" and not cause.data.get("nutrient") else cause.code
    about = cause.data.get("about")
    named: dict[str, Any] = {} if about is None else {"nutrient": about, "entry_id": about}
    template = CAUSE_SENTENCES.get(code)
    return cause.code if template is None else fill(_(template), named | cause.data)


def step_text(step: Step) -> str:
    """Return an edit as the end of a sentence: "put potassium nitrate on the shelf"."""
    word = nutrient_word(step.about)
    thing = word if word != step.about else salt_in_sentence(step.about)
    data: dict[str, Any] = {"salt": step.about, "entry_id": step.about, "thing": thing, "about": step.about}
    if step.value is not None:
        data |= {name: step.value for name in ("value_mg_per_l", "value_percent", "value_meq_per_l")}
    return fill(_(STEP_SENTENCES[step.kind]), data)


def step_edit(step: Step) -> str:
    """Return what the menu calls an edit that is tried."""
    return step_text(step)


def remedy_text(remedy: Remedy) -> str:
    """Return the best thing to try and what it does."""
    moved = joined([change_text(change) for change in remedy.changes[:3]])
    if remedy.missed_after == 0:
        return _("Try this: {step}. Then every target is in its range: {moved}.").format(
            step=step_text(remedy.step), moved=moved
        )
    return _("Try this: {step}. Then {after} instead of {before} targets are out of range: {moved}.").format(
        step=step_text(remedy.step), after=remedy.missed_after, before=remedy.missed_before, moved=moved
    )


def change_text(change: Change) -> str:
    """Return one nutrient's change: "sulfur 58 instead of 68 mg/L"."""
    return _("{nutrient} {after} instead of {before} mg/L").format(
        nutrient=nutrient_word(change.nutrient),
        after=format_short(change.after_mg_per_l),
        before=format_short(change.before_mg_per_l),
    )


def spare_text(spare: Spare, currency: str = "") -> str:
    """Return an offer: "You can do without potassium sulfate: sulfur 58 instead of 68 mg/L, still fine."."""
    name = salt_in_sentence(spare.entry_id)
    cost = _cost_words(spare.cost_change_per_1000_l, currency)
    if not spare.changes:
        return _("You can do without {salt}: nothing changes by much{cost}.").format(salt=name, cost=cost)
    moved = joined([change_text(change) for change in spare.changes[:3]])
    return _("You can do without {salt}: {moved}, still fine{cost}.").format(salt=name, moved=moved, cost=cost)


def _cost_words(change_per_1000_l: float | None, currency: str) -> str:
    if change_per_1000_l is None or abs(change_per_1000_l) < LEAST_MONEY:
        return ""
    money = f"{currency} {format_decimals(abs(change_per_1000_l), 2)}".strip()
    words = _("; {money} more per 1000 L") if change_per_1000_l > 0 else _("; {money} less per 1000 L")
    return words.format(money=money)


def price_text(price: Price, currency: str = "") -> str:
    """Return what one step of a bound or target does, both sides where they differ."""
    subject = _subject(price)
    sides = [(_("down to"), price.down), (_("up to"), price.up)]
    told = [_side_text(word, side, price.unit, currency) for word, side in sides if side is not None]
    return _("{subject}: {sides}").format(subject=subject, sides="; ".join(told))


def _subject(price: Price) -> str:
    if price.kind == "target":
        return _("target for {nutrient}").format(nutrient=nutrient_word(price.about))
    if price.kind == "tolerance":
        return _("tolerance of {nutrient}").format(nutrient=nutrient_word(price.about))
    if price.kind == "entry":
        return _("bound on {salt}").format(salt=salt_in_sentence(price.about))
    if price.kind == "ammonium-share":
        return _("limit on ammonium's share")
    return _("limit on {nutrient}").format(nutrient=nutrient_word(price.about))


def _side_text(word: str, side: Side, unit: str, currency: str) -> str:
    money, fit = step_money(side), _fit_words(side)
    effects = [_("{money} per 1000 L").format(money=f"{money} {currency}".strip())] if money else []
    effects += fit
    at = f"{format_short(side.at)} {unit}"
    return f"{word} {at}: {', '.join(effects) or _('nothing')}"


def step_money(side: Side) -> str:
    """Return by how much a step changes the cost of 1000 L: in hundredths, two digits where it is less; else ""."""
    change = side.cost_change_per_1000_l
    if change is None or abs(change) < LEAST_STEP_MONEY:
        return ""
    size = format_decimals(abs(change), 2) if abs(change) >= 0.1 else format_number(abs(change), 2)
    return f"{'+' if change > 0 else MINUS}{size}"


def _fit_words(side: Side) -> list[str]:
    words = []
    if abs(side.misfit_change) > 1e-6:
        words.append(_("a worse fit") if side.misfit_change > 0 else _("a better fit"))
    if side.gains is not None:
        words.append(_("{nutrient} nearer").format(nutrient=nutrient_word(side.gains)))
    return words


def is_told(price: Price) -> bool:
    """Return whether a step to either side does anything worth telling."""
    return any(side is not None and (step_money(side) or _fit_words(side)) for side in (price.down, price.up))


def step_heads(currency: str) -> tuple[str, ...]:
    """Return the headings over steps: what is moved, to where, the money, the fit."""
    sign = CURRENCY_SIGNS.get(currency, currency)
    return _("One step of the"), _("to"), _("{currency} per 1000 L").format(currency=sign).strip(), _("and the fit")


def step_rows(price: Price) -> list[tuple[str, ...]]:
    """Return one row for each side of a step that does anything; what is moved is named once."""
    sides = [side for side in (price.down, price.up) if side is not None and (step_money(side) or _fit_words(side))]
    return [
        (
            _subject(price) if number == 0 else "",
            f"{format_short(side.at)} {price.unit}",
            step_money(side) or DASH,
            ", ".join(_fit_words(side)),
        )
        for number, side in enumerate(sides)
    ]


def unused_text(unused: Unused, currency: str = "") -> str:
    """Return why an entry is not used and from which price it would be."""
    code = "price-known" if unused.reason == "price" and unused.price_per_kg is not None else unused.reason
    below = format_number(unused.enters_below_per_kg or 0.0, 3)
    now = format_short(unused.price_per_kg or 0.0)
    text = _(UNUSED_SENTENCES[code]).format(
        entry_id=salt_in_sentence(unused.entry_id), price=f"{currency} {below}".strip(), now=now
    )
    return text[:1].upper() + text[1:]


def line_text(line: Line) -> str:
    """Return one line of a working: "potassium nitrate: 216.3 mg/L x 13.85 % = 29.97 mg/L"."""
    heading, result = line_heading(line), line_result(line)
    return f"{heading}: {arithmetic(line)} = {result}" if line.numbers else f"{heading}: {result}"


def line_heading(line: Line) -> str:
    """Return what a line of a working is about."""
    about = nutrient_word(line.about) if nutrient_word(line.about) != line.about else salt_in_sentence(line.about)
    name = {
        "water": _("the water"),
        "sum": _("together"),
        "ec": _("together"),
        "cost": _("together"),
        "rest": _("all other ions"),
        "unit": _("in {unit}").format(unit=line.about),
    }
    return name.get(line.code, about)


def line_result(line: Line) -> str:
    """Return what a line of a working comes to."""
    return _number(line.result)


def arithmetic(line: Line) -> str:
    """Return the left side of a line, "216.3 mg/L x 13.85 %"; nothing for a figure taken as it is."""
    sign = {"x": "\N{MULTIPLICATION SIGN}", "/": "\N{DIVISION SIGN}"}.get(line.sign, line.sign)
    return f" {sign} ".join(_number(number) for number in line.numbers)


UNIT_WORDS = {
    "L feed per L tank": marked("L of feed per L of tank"),
    "kg per 1000 L": marked("kg per 1000 L"),
    "uS/cm per meq/L": marked("µS/cm per meq/L"),
    "mS/uS": marked("mS/µS"),
}
"""Units of a working that are words, or are written otherwise."""


def _number(number: Number) -> str:
    unit = _(UNIT_WORDS[number.unit]) if number.unit in UNIT_WORDS else number.unit
    return f"{format_short(number.value, 4)} {unit}".strip()
