"""Questions answered behind the window: only the newest is heard, what is given up is told to stop."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from app.session.asking import Asker, GivenUp, Stop

Work = Callable[[], None]


class Pile:
    """Work that waits until it is done by hand."""

    def __init__(self) -> None:
        self.works: list[Work] = []

    def __call__(self, work: Work) -> None:
        self.works.append(work)

    def do(self) -> None:
        self.works.pop(0)()


@pytest.fixture
def pile() -> Pile:
    return Pile()


@pytest.fixture
def owner(qtbot: QtBot) -> QObject:
    return QObject()


def test_an_answer_comes_and_busy_ends(qtbot: QtBot, owner: QObject, pile: Pile) -> None:
    asker, heard, busy = Asker(owner, pile), [], []
    asker.answered.connect(heard.append)
    asker.busy_changed.connect(busy.append)
    asker.ask(lambda _stop: 7)
    assert asker.busy()
    pile.do()
    assert (heard, busy) == ([7], [True, False])
    assert asker.idle()


def test_what_is_overtaken_is_told_to_stop_and_never_heard(qtbot: QtBot, owner: QObject, pile: Pile) -> None:
    asker, heard, told = Asker(owner, pile), [], []
    asker.answered.connect(heard.append)

    def slow(stop: Stop) -> int:
        told.append(stop())
        return 1

    asker.ask(slow)
    asker.ask(lambda _stop: 2)
    asker.ask(lambda _stop: 3)
    pile.do()
    assert (heard, told) == ([], [True])
    pile.do()
    assert heard == [3]
    assert pile.works == []


def test_what_is_cancelled_is_not_heard_and_the_next_is(qtbot: QtBot, owner: QObject, pile: Pile) -> None:
    asker, heard, failed = Asker(owner, pile), [], []
    asker.answered.connect(heard.append)
    asker.failed.connect(failed.append)

    def given_up(stop: Stop) -> int:
        if stop():
            raise GivenUp
        return 1

    asker.ask(given_up)
    asker.cancel()
    assert not asker.busy()
    pile.do()
    assert (heard, failed) == ([], [])
    asker.ask(lambda _stop: 2)
    pile.do()
    assert heard == [2]


def test_a_fault_is_told_and_the_asker_goes_on(qtbot: QtBot, owner: QObject, pile: Pile) -> None:
    asker, heard, failed = Asker(owner, pile), [], []
    asker.answered.connect(heard.append)
    asker.failed.connect(failed.append)

    def broken(_stop: Stop) -> int:
        raise ValueError("no such thing")

    asker.ask(broken)
    pile.do()
    asker.ask(lambda _stop: 2)
    pile.do()
    assert (heard, failed) == ([2], ["no such thing"])
