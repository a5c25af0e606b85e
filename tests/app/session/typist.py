"""A program that starts sessions, types into them without pause, and kills each at a random moment.

Run as ``python -m tests.app.session.typist FOLDER SEED RUNS AT_ONCE``. Each run has a folder of its own with the file
`mine.saltwright`, the state folder `state`, and `typed`, one line for every edit ("edit NUMBER SECONDS"), written when
the session has it, and one for every save that returned ("save NUMBER SECONDS"). The file `killed` of the folder has
the moment of the kill; all times are of the same clock.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

from msgspec import structs
from PySide6.QtCore import QCoreApplication, QTimer

from app.session import changes, state
from app.session.planning import Planner
from app.session.recovery import Recovery
from app.session.session import Session
from core.recipe import dumps
from tests.app.sample import follow, sample_recipe

BETWEEN_EDITS_MS = 20
LONGEST_LIFE_S = 3.2


def type_without_pause(folder: Path, chance: random.Random) -> None:
    """Edit and save until killed."""
    app = QCoreApplication(["saltwright"])
    state.state_file = lambda: folder / "state" / "window.json"
    log = os.open(folder / "typed", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    session = Session(Planner(make=follow, warm=lambda: None, held=True), recovery=Recovery())
    session.open(folder / "mine.saltwright")
    saves = chance.choice((0.0, 0.01, 0.2))
    number = 0

    def note(what: str) -> None:
        os.write(log, f"{what} {number} {time.monotonic()!r}\n".encode())

    def edit() -> None:
        nonlocal number
        number += 1
        recipe = session.recipe
        assert recipe is not None
        recipe = structs.replace(changes.with_target(recipe, "K", float(number)), title=f"edit {number}")
        session.push(f"edit {number}", ("number", str(number)), recipe)
        note("edit")
        if chance.random() < saves:
            session.save()
            note("save")

    timer = QTimer()
    timer.setInterval(BETWEEN_EDITS_MS)
    timer.timeout.connect(edit)
    timer.start()
    edit()
    app.exec()


def begin(folder: Path, seed: int) -> int:
    """Start one run, and return its process."""
    folder.mkdir()
    (folder / "mine.saltwright").write_bytes(dumps(structs.replace(sample_recipe(), title="edit 0")))
    process = os.fork()
    if process == 0:
        try:
            type_without_pause(folder, random.Random(seed))
        finally:
            os._exit(1)
    return process


def main(folder: Path, seed: int, runs: int, at_once: int) -> None:
    """Start the runs, so many at once, and kill each."""
    chance = random.Random(seed)
    for first in range(0, runs, at_once):
        begun = [(number, begin(folder / str(number), seed + number)) for number in range(first, first + at_once)]
        now = time.monotonic()
        ends = sorted((now + chance.uniform(0.2, LONGEST_LIFE_S), number, process) for number, process in begun)
        for end, number, process in ends:
            time.sleep(max(0.0, end - time.monotonic()))
            os.kill(process, signal.SIGKILL)
            (folder / str(number) / "killed").write_text(repr(time.monotonic()), encoding="utf-8")
        for _number, process in begun:
            os.waitpid(process, 0)


if __name__ == "__main__":
    main(Path(sys.argv[1]), *map(int, sys.argv[2:5]))
