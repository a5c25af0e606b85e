"""The thread behind the window: one for all its work, and gone when it is closed."""

from __future__ import annotations

import threading

from app.session.worker import Worker


def test_all_work_is_done_in_order_in_one_thread() -> None:
    worker, done = Worker("trial"), []
    for number in range(3):
        worker.do(lambda number=number: done.append((number, threading.current_thread())))
    worker.close()
    assert [number for number, _ in done] == [0, 1, 2]
    assert len({thread for _, thread in done}) == 1
    assert threading.main_thread() not in {thread for _, thread in done}
    assert not any(thread.name == "trial" for thread in threading.enumerate())


def test_closing_what_never_worked() -> None:
    Worker("trial").close()
    assert not any(thread.name == "trial" for thread in threading.enumerate())


def test_once_closed_nothing_is_begun() -> None:
    worker, done = Worker("trial"), []
    worker.close()
    worker.do(lambda: done.append(1))
    assert not any(thread.name == "trial" for thread in threading.enumerate())
    assert done == []
