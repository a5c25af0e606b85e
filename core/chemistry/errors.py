"""What the chemistry cannot answer."""

from __future__ import annotations


class OutOfRange(ValueError):
    """What was asked lies outside the range the chemistry holds for."""


class NotConverged(OutOfRange):
    """The equilibrium was not found; `columns` names the solutions concerned."""

    def __init__(self, columns: tuple[int, ...]) -> None:
        super().__init__(f"No equilibrium was found for solution {columns[0] + 1}.")
        self.columns = columns
