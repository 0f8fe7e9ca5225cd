"""Workers: results in order whatever executor does the work, what all tasks need sent along by value, few tasks under way."""

from __future__ import annotations

import pickle
from concurrent.futures import Executor, Future, ThreadPoolExecutor

import pytest

from sheetgen.sets import local_workers, results
from sheetgen.sets.local import LocalWorkers, WorkerLostError
from sheetgen.sheet import Style, settings_of


class Elsewhere(Executor):
    """An executor on another machine, as far as one can tell: everything goes there and comes back in a parcel."""

    def __init__(self) -> None:
        self.under_way, self.most = 0, 0

    def submit(self, work, /, *words, **named):
        self.under_way += 1
        self.most = max(self.most, self.under_way)
        work, words = pickle.loads(pickle.dumps((work, words)))
        future = Future()
        future.result = lambda timeout=None: self._back(work(*words))
        return future

    def _back(self, found):
        self.under_way -= 1
        return pickle.loads(pickle.dumps(found))


def halved(common, task):
    return common / task


def test_results_come_in_the_order_of_the_tasks_whoever_does_the_work():
    alone = list(results(halved, 12.0, range(1, 30)))
    with ThreadPoolExecutor(3) as threads, local_workers(2) as processes:
        assert alone == [12.0 / task for task in range(1, 30)]
        assert all(list(results(halved, 12.0, range(1, 30), executor)) == alone for executor in (threads, processes, Elsewhere()))


def test_no_more_tasks_are_under_way_than_was_said():
    far = Elsewhere()
    assert len(list(results(halved, 1.0, range(1, 40), far, ahead=5))) == 39
    assert far.most == 5


@pytest.mark.parametrize("workers", [1, 2])
def test_what_goes_wrong_with_a_task_comes_back(workers):
    with local_workers(workers) as executor, pytest.raises(ZeroDivisionError):
        list(results(halved, 1.0, [1, 0, 2], executor))


def test_workers_that_were_told_to_end_take_no_more_work():
    with local_workers(2) as executor:
        pass
    with pytest.raises(RuntimeError, match="told to end"):
        executor.submit(halved, 1.0, 1)


def test_a_worker_that_is_lost_while_the_others_are_told_to_end_leaves_nobody_waiting():
    """The thread that attends a lost one takes what waits for all, and must leave the others their word to end."""
    workers, lost, waiting = LocalWorkers(), Future(), Future()
    workers._todo.put((waiting, b""))
    workers._todo.put(None)
    workers._todo.put(None)
    workers._lost(lost)
    assert all(isinstance(one.exception(0), WorkerLostError) for one in (lost, waiting))
    assert [workers._todo.get_nowait(), workers._todo.get_nowait()] == [None, None]
    assert workers._todo.empty()


def test_settings_travel_by_value():
    settings = settings_of(Style(side="right"))
    there = pickle.loads(pickle.dumps(settings))
    assert there.wording.render("views.front") == settings.wording.render("views.front")
    assert there.block == settings.block and there.side == "right"
