"""The equations of one system written out as plain arithmetic, for a solution that is asked for again and again.

A single solution has too few numbers for arrays: calling numpy would cost more than the sums. So once a system has
been asked for a few times, its Newton method, the same as in `equilibrium`, is written as one Python function without
loops over species. It gives up where it does not arrive quickly; `equilibrium` then takes over.

Names in the text: m3 molality of species 3, a1 activity of ligand 1, t2 total of group 2, u1_2 sum 1 over group 2,
s1 sum 1, y4 one over the activity coefficient of class 4, d4 the slope of that coefficient's logarithm by ln I, j1_2
Jacobian, e1 error, x1 step.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from math import exp, log, sqrt
from typing import Any, TypeAlias

from core.chemistry.equilibrium import LONGEST_STEP, TOLERANCE
from core.chemistry.system import System

Solver: TypeAlias = Callable[..., "tuple[list[float], float, float] | None"]
"""(totals of groups, of ligands, K of species, A, B, b of classes, H+ activity or its guess, alkalinity, I guess, and
where the solution is open to a gas its carbonate activity times that of H+ squared) -> (molality of species, I, H+
activity), or None."""

MOST_STEPS = 12

Terms: TypeAlias = dict[int, float]
"""Species -> factor."""


@lru_cache(maxsize=64)
def straight(system: System, ph_known: bool, is_open: bool = False) -> Solver:
    """Write and compile the solver of a system; open to a gas only where its pH is asked for."""
    names: dict[str, Any] = {"exp": exp, "log": log, "sqrt": sqrt}
    text = "\n".join(_Newton(system, ph_known, is_open).function())
    exec(compile(text, "<equations of one solution>", "exec"), names)  # our own text, made from our own table
    solver: Solver = names["solve"]
    return solver


def _sum(terms: Iterable[tuple[float, str]]) -> str:
    """Text of a sum, terms of the same factor gathered: m3+2.0*(m1+m4)."""
    by_factor: dict[float, list[str]] = {}
    for factor, name in terms:
        by_factor.setdefault(factor, []).append(name)
    return "+".join(
        "+".join(names) if factor == 1.0 else f"{factor!r}*({'+'.join(names)})" for factor, names in by_factor.items()
    )


class _Sums:
    """Writes the lines that turn unknowns into molalities and sums."""

    def __init__(self, system: System, ph_known: bool, is_open: bool) -> None:
        self.system, self.ph_known, self.k = system, ph_known, len(system.ligands)
        self.open = system.carbonate if is_open else -1
        self.closed = [j for j in range(self.k) if j != self.open]
        self.q = self.k + (1 if ph_known else 2)
        group_of = system.group_of.tolist()
        rows: dict[int, list[int]] = {g: [] for g in range(len(system.groups))}
        for s, g in enumerate(group_of):
            rows.get(g, []).append(s)
        self.idle = {species[0]: g for g, species in rows.items() if len(species) == 1}
        self.groups = {g: species for g, species in rows.items() if len(species) > 1}
        self.busy = [s for s in range(len(group_of)) if s not in self.idle]
        self.own = [s for s in self.busy if group_of[s] == len(system.groups)]
        self.stoich = [{s: row[s] for s in self.busy if row[s]} for row in system.stoich.T.tolist()]
        self.sums = [{s: row[s] for s in self.busy if row[s]} for row in system.sums.tolist()]

    @property
    def _rows(self) -> range:
        return range(self.k + (1 if self.ph_known else 4))

    def _unpack(self) -> Iterator[str]:
        system = self.system
        for letter, source, count in (
            ("t", "T", len(system.groups)), ("l", "L", self.k), ("k", "K", len(system.species)),
            ("A", "A", len(system.classes)), ("B", "B", len(system.classes)), ("C", "C", len(system.classes)),
        ):  # fmt: skip
            if count:
                yield "".join(f"{letter}{n}," for n in range(count)) + f" = {source}"
        for g in self.groups:
            yield f"r{g} = 1.0/t{g}"
        for r in self._rows:
            if brought := _sum(
                (self.system.sums[r, s].item(), f"t{g}") for s, g in self.idle.items() if self._idles(r, s)
            ):
                yield f"rest{r} = {brought}"
        if not self.ph_known:
            yield "plus, minus = max(alkalinity, 0.0), max(-alkalinity, 0.0)"

    def _idles(self, r: int, s: int) -> bool:
        """Whether an idle species, one whose amount is its total, counts in sum r."""
        return bool(self.system.sums[r, s] != 0.0)

    def _protons(self) -> Iterator[str]:
        most, least = (int(f(self.stoich[-1].values(), default=0.0)) for f in (max, min))
        yield from (f"h{n} = h{n - 1}*h1" for n in range(2, most + 1))
        if least < 0:
            yield "i1 = 1.0/h1"
        yield from (f"i{n} = i{n - 1}*i1" for n in range(2, -least + 1))

    def _classes(self, with_slope: bool) -> Iterator[str]:
        yield "q = sqrt(I)"
        for c in sorted({int(self.system.class_of[s]) for s in self.busy}):
            if not self.system.classes[c][0]:
                yield f"w = C{c}*I; y{c} = exp(-w)" + (f"; d{c} = w" if with_slope else "")
                continue
            yield f"u = 1.0+B{c}*q; p = A{c}*q/u; w = C{c}*I; y{c} = exp(p-w)" + (
                f"; d{c} = w-0.5*p/u" if with_slope else ""
            )

    def _form(self, s: int, with_ligands: bool) -> str:
        """Text of a species' amount per free group: constant, protons, ligands, activity coefficient."""
        protons = int(self.stoich[-1].get(s, 0.0))
        factors = [f"k{s}", *([f"h{protons}"] if protons > 0 else [f"i{-protons}"] if protons else [])]
        if with_ligands:
            factors += [f"a{j}" for j in range(self.k) for _ in range(int(self.stoich[j].get(s, 0.0)))]
        return "*".join([*factors, f"y{self.system.class_of[s]}"])

    def _forms(self) -> Iterator[str]:
        """Molalities: own forms at once, groups shared out."""
        yield from (f"m{s} = {self._form(s, True)}" for s in self.busy)
        for g, species in self.groups.items():
            yield f"f = t{g}/({'+'.join(f'm{s}' for s in species)}); " + "; ".join(f"m{s} *= f" for s in species)

    def _start(self) -> Iterator[str]:
        """Guess of the ligands with pairs as if cations were free, then one round of correction."""
        yield from self._classes(False)
        yield from (f"m{s} = {self._form(s, False)}" for s in self.busy)
        for g, species in self.groups.items():
            free = "+".join(f"m{s}" for s in species if self.system.alone[g, s])
            yield f"f{g} = t{g}/({free})"
        for j in range(self.k):
            held = [s for s in self.busy if self.system.first[j, s]]
            parts = [f"m{s}" for s in held if s in self.own]
            for g, species in self.groups.items():
                if paired := "+".join(f"m{s}" for s in species if s in held):
                    parts.append(f"f{g}*({paired})")
            yield f"a{j} = l{j}/({'+'.join(parts)})" if j != self.open else f"a{j} = gas/(h1*h1)"
        yield from self._forms()
        yield from self._sums(range(self.k + 1))
        yield from (f"a{j} *= min(max(l{j}/s{j}, 0.4), 2.5)" for j in self.closed)
        yield f"I = s{self.k}"

    def _sums(self, rows: Iterable[int]) -> Iterator[str]:
        """Sums over each group and over all."""
        for r in rows:
            parts = [_sum((factor, f"m{s}") for s, factor in self.sums[r].items() if s in self.own)]
            for g, species in self.groups.items():
                if inner := _sum((self.sums[r][s], f"m{s}") for s in species if s in self.sums[r]):
                    yield f"u{r}_{g} = {inner}"
                    parts.append(f"u{r}_{g}")
            parts.append(f"rest{r}" if any(self._idles(r, s) for s in self.idle) else "")
            yield f"s{r} = " + ("+".join(part for part in parts if part) or "0.0")


class _Newton(_Sums):
    """Writes the whole function: the sums, then errors, Jacobian, elimination and step."""

    def function(self) -> Iterator[str]:
        """Lines of the whole function."""
        yield "def solve(T, L, K, A, B, C, h1, alkalinity, I, gas=0.0):"
        body = [*self._unpack(), *self._protons(), *self._start(), f"for step in range({MOST_STEPS}):"]
        yield from ("    " + line for line in body)
        loop = [
            *([] if self.ph_known else self._protons()),
            *self._classes(True),
            *self._forms(),
            *self._sums(self._rows),
        ]
        loop += [*self._errors(), *self._jacobian(), *self._eliminate(), *self._update()]
        yield from ("        " + line for line in loop)
        yield "    return None"

    def _errors(self) -> Iterator[str]:
        k = self.k
        yield from (f"e{j} = log(s{j}/l{j})" if j != self.open else f"e{j} = log(a{j}*h1*h1/gas)" for j in range(k))
        yield f"e{k} = log(s{k}/I)"
        if not self.ph_known:
            yield f"up, down = s{k + 2}+plus, s{k + 3}+minus; e{k + 1} = log(up/down)"
        yield f"worst = max({', '.join(f'abs(e{r})' for r in range(self.q))}, 0.0)"
        yield f"if worst < {TOLERANCE!r}:"
        told = (f"t{self.idle[s]}" if s in self.idle else f"m{s}" for s in range(len(self.system.species)))
        yield f"    return [{', '.join(told)}], I, h1"

    def _columns(self) -> list[tuple[int, int]]:
        """Columns of the Jacobian but ln I, each with the row of `sums` that counts the same thing."""
        return [(j, j) for j in range(self.k)] + ([] if self.ph_known else [(self.k + 1, self.k + 1)])

    def _jacobian(self) -> Iterator[str]:
        """Derivatives, groups eliminated, each row over its own sum."""
        k = self.k
        for g, species in self.groups.items():
            yield f"v{g} = r{g}*({self._weakened(species, dict.fromkeys(species, 1.0))})"
            yield from (f"w{c}_{g} = u{row}_{g}*r{g}" for c, row in self._columns() if self._touches(row, g))
        if self.open >= 0:
            yield "; ".join(f"j{self.open}_{c} = {self._of_gas(c)!r}" for c in range(self.q))
        for r in [*self.closed, k]:
            yield f"p = 1.0/s{r}"
            for c, row in self._columns():
                yield f"j{r}_{c} = p*({self._entry(r, c, row)})"
            yield f"j{r}_{k} = p*({self._fading(r)})" + ("-1.0" if r == k else "")
        if not self.ph_known:
            yield "p, w = 1.0/up, 1.0/down"
            for c, row in self._columns():
                yield f"j{k + 1}_{c} = p*({self._entry(k + 2, c, row)})-w*({self._entry(k + 3, c, row)})"
            yield f"j{k + 1}_{k} = p*({self._fading(k + 2)})-w*({self._fading(k + 3)})"

    def _of_gas(self, c: int) -> float:
        """How unknown c enters the balance of an open solution with its gas: carbonate once, protons twice."""
        return 1.0 if c == self.open else 2.0 if c == self.k + 1 else 0.0

    def _touches(self, row: int, g: int) -> bool:
        return any(s in self.sums[row] for s in self.groups[g])

    def _entry(self, r: int, c: int, row: int) -> str:
        """Derivative of sum r by unknown c, as text."""
        counts = self.stoich[c]
        text = _sum((factor * counts[s], f"m{s}") for s, factor in self.sums[r].items() if s in counts)
        both = [g for g in self.groups if self._touches(r, g) and self._touches(row, g)]
        return (text or "0.0") + "".join(f"-u{r}_{g}*w{c}_{g}" for g in both)

    def _weakened(self, species: Iterable[int], factors: Terms) -> str:
        """Sum of factor times molality times slope, gathered by class, as text."""
        by_class: dict[int, list[tuple[float, str]]] = {}
        for s in species:
            if s in factors:
                by_class.setdefault(int(self.system.class_of[s]), []).append((factors[s], f"m{s}"))
        return "+".join(f"d{c}*({_sum(terms)})" for c, terms in by_class.items()) or "0.0"

    def _fading(self, r: int) -> str:
        """Derivative of sum r by ln I, as text."""
        back = "".join(f"+u{r}_{g}*v{g}" for g in self.groups if self._touches(r, g))
        return f"-({self._weakened(self.busy, self.sums[r])}){back}"

    def _eliminate(self) -> Iterator[str]:
        """Gauss without exchange of rows: rows are scaled and the diagonal rules; x holds the step."""
        q = self.q
        for p in range(q):
            for r in range(p + 1, q):
                changes = "; ".join(f"j{r}_{c} -= f*j{p}_{c}" for c in range(p + 1, q))
                yield f"f = j{r}_{p}/j{p}_{p}; e{r} -= f*e{p}" + (f"; {changes}" if changes else "")
        for r in reversed(range(q)):
            known = "".join(f"-j{r}_{c}*x{c}" for c in range(r + 1, q))
            yield f"x{r} = (e{r}{known})/j{r}_{r}"

    def _update(self) -> Iterator[str]:
        k = self.k
        sizes = [*(f"0.25*abs(x{j})" for j in range(k)), *(f"abs(x{r})" for r in range(k, self.q))]
        yield "if worst > 0.1:"
        yield f"    w = max({', '.join(sizes)}, {LONGEST_STEP!r}); f = {LONGEST_STEP!r}/w"
        yield "    " + "; ".join(f"x{r} *= f" for r in range(self.q))
        yield from (f"a{j} *= exp(-x{j})" for j in range(k))
        yield f"I *= exp(-x{k})"
        if not self.ph_known:
            yield f"h1 *= exp(-x{k + 1})"
