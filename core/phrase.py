"""An English phrase that remembers how it was made, so that it can be said in another language."""

from __future__ import annotations


class Phrase(str):
    """The filled phrase, which is a text like any other; `template` and `data` are what it was filled from.

    Refusals are made where something is found wrong, which knows no language but its own. Whoever shows them looks
    up the template and fills it anew; data that are phrases themselves are said in that language too.
    """

    __slots__ = ("data", "template")

    template: str
    data: dict[str, object]

    def __new__(cls, template: str, **data: object) -> Phrase:
        """Return the template filled with the data."""
        made = super().__new__(cls, template.format(**data) if data else template)
        made.template, made.data = template, data
        return made
