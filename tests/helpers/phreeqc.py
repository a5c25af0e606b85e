"""PHREEQC 3.7.3 (USGS, through phreeqpython) with our own constants written into a copy of its database."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import phreeqpython

THEIR_MGSO4 = "Mg+2 + SO4-2 = MgSO4\n\t-log_k\t2.37"


def phreeqc(folder: Path, added: str = "") -> Any:
    """Return a running engine; `added` is more of the database, in its own language."""
    theirs = Path(phreeqpython.__file__).parent / "database" / "phreeqc.dat"
    text = theirs.read_text(encoding="latin-1").replace("\r", "")
    assert text.count(THEIR_MGSO4) == 1
    ours = text.replace(THEIR_MGSO4, THEIR_MGSO4.replace("2.37", "2.20")).replace("\nPHASES\n", f"{added}\nPHASES\n", 1)
    (folder / "ours.dat").write_text(ours, encoding="latin-1")
    return phreeqpython.PhreeqPython(database="ours.dat", database_directory=folder)
