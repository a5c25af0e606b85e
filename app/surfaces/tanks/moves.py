"""The pins that moving a salt made, its own and those of what it was to stand beside, so that they go off together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from core.plan.records import Plan

Pins = Mapping[str, str]
Wanted = dict[str, str | None]
"""Shelf entries and the tank each is to be pinned to, None where it is to go free."""


class Company(NamedTuple):
    """A salt moved to a tank, what stood with it before, and what it is to stand beside there, if anything did."""

    entry_id: str
    product: str
    letter: str
    fellows: frozenset[str]
    beside: str | None

    def still_stands(self, plan: Plan) -> bool:
        """Return whether the salt stands with all it stood with before: then its tank only has another letter."""
        fellows = fellows_of(plan, self.entry_id)
        return self.fellows <= fellows if self.fellows else not fellows


@dataclass
class _Step:
    """One move: the tank a salt came from, the pins it made, and what was pinned in their place before."""

    origin: str
    made: dict[str, str]
    before: Wanted = field(default_factory=dict)


class Moves:
    """What was moved where in this window, as far as the pins are still those moves'."""

    def __init__(self) -> None:
        self._steps: dict[str, list[_Step]] = {}

    def forget(self) -> None:
        """Begin anew: another recipe is open."""
        self._steps.clear()

    def move(self, entry_id: str, origin: str, letter: str, pins: Pins) -> tuple[Wanted, bool]:
        """Return the pins to set for a move, and whether it leads back: then they are those of before it was moved."""
        steps = self._standing(entry_id, pins)
        back = max((number for number, step in enumerate(steps) if step.origin == letter), default=-1)
        if back >= 0:
            return _taken_off(steps[back:], pins), True
        self._steps[entry_id] = [*steps, _Step(origin, {entry_id: letter}, {entry_id: pins.get(entry_id)})]
        return {entry_id: letter}, False

    def release(self, entry_id: str, pins: Pins) -> Wanted:
        """Return the pins to set so that the program chooses a salt's tank, and that of its company."""
        return _taken_off(self._standing(entry_id, pins), pins) | {entry_id: None}

    def join(self, entry_id: str, beside: str, letter: str, pins: Pins) -> None:
        """Note that the move of a salt pinned another one, so that both stand in one tank."""
        step = self._steps[entry_id][-1]
        step.before.setdefault(beside, pins.get(beside))
        step.made[beside] = letter

    def leader(self, key: str, pins: Pins) -> str | None:
        """Return the salt whose move pinned this one along; None where its pin is a person's own."""
        for entry_id in self._steps:
            made = [step.made for step in self._standing(entry_id, pins)]
            if entry_id != key and any(key in one and one[key] == pins.get(key) for one in made):
                return entry_id
        return None

    def _standing(self, entry_id: str, pins: Pins) -> list[_Step]:
        """The moves up to the one the salt's pin is of: what was undone since does not count, until it is redone."""
        steps = self._steps.get(entry_id, [])
        last = max((n for n, step in enumerate(steps) if step.made[entry_id] == pins.get(entry_id)), default=-1)
        return steps[: last + 1]


def _taken_off(steps: list[_Step], pins: Pins) -> Wanted:
    """The pins as they were before these moves, as far as they are still the moves' own."""
    wanted: Wanted = {}
    for step in reversed(steps):
        for key, letter in step.made.items():
            if wanted.get(key, pins.get(key)) == letter:
                wanted[key] = step.before[key]
    return wanted


def fellows_of(plan: Plan, entry_id: str) -> frozenset[str]:
    """Return what stands in one tank with a product."""
    held = [{content.entry_id for content in tank.contents} for tank in plan.tanks]
    return frozenset().union(*[keys for keys in held if entry_id in keys]) - {entry_id}
