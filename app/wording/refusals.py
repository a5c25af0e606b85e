"""Refusals of the engine in the language in use: what was typed or opened, what is wrong with it, how to mend it."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked
from core.phrase import Phrase

PLACES = {
    "shelf": marked("shelf entry {number}"),
    "targets": marked("target {number}"),
    "limits": marked("limit {number}"),
    "scales": marked("scale {number}"),
    "batches": marked("batch {number}"),
    "reservoirs": marked("reservoir {number}"),
    "entries": marked("entry {number}"),
    "weighed": marked("weighed product {number}"),
}


def said(phrase: object) -> str:
    """Return one of the engine's phrases; data that are phrases are said too, anything else stays as it is."""
    if not isinstance(phrase, Phrase):
        return str(phrase)
    template = _(phrase.template)
    return template.format(**{name: _value(one) for name, one in phrase.data.items()}) if phrase.data else template


def _value(value: object) -> object:
    return said(value) if isinstance(value, Phrase) else value


def what_is_wrong(phrase: str) -> str:
    """Return a part of a refusal, which is a phrase where it was filled and its own template where it was not."""
    return said(phrase if isinstance(phrase, Phrase) else Phrase(phrase)) if phrase else ""


def refusal(error: BaseException) -> str:
    """Return why something was refused, as one sentence; a fault that is none of the engine's is quoted."""
    from core.recipe import RecipeError  # by the time something is refused these are loaded
    from core.units import AmbiguousText

    if isinstance(error, RecipeError):
        return _of_a_recipe(error)
    if isinstance(error, AmbiguousText):
        sentence = said(error.args[0])
        if not error.readings:
            return _("{sentence}.").format(sentence=sentence)
        return _("{sentence}; did you mean {readings}?").format(
            sentence=sentence, readings=_(" or ").join(error.readings)
        )
    return said(error.args[0]) if error.args and isinstance(error.args[0], Phrase) else str(error)


def _of_a_recipe(error: object) -> str:
    from core.recipe.errors import RecipeError, escaped, path_text

    assert isinstance(error, RecipeError)
    places = [
        _(PLACES[name]).format(number=index + 1)
        for name, index in zip(error.path, error.path[1:], strict=False)
        if isinstance(index, int) and isinstance(name, str) and name in PLACES
    ]
    place = f"{', '.join(places)} ({path_text(error.path)})" if places else path_text(error.path)
    subject = ": ".join(part for part in (escaped(error.where), place) if part) or _("this file")
    sentence = _("{subject} {what}").format(subject=subject, what=what_is_wrong(error.what))
    return _("{sentence}; {mend}").format(sentence=sentence, mend=what_is_wrong(error.mend)) if error.mend else sentence
