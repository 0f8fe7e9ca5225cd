"""Many machines: two workers of a Dask cluster make the bytes that one process makes; what is wrong with a cluster is told before
anything is drawn."""

from __future__ import annotations

import os
import re
import signal
import time

import pytest
from click.testing import CliRunner
from distributed import LocalCluster

from sheetgen.cli import main
from sheetgen.sets import WorkersError, cluster, results
from sheetgen.sets.cluster import cluster_workers
from tests.sets.papers.mock import furnish
from tests.stops import contents


@pytest.fixture(scope="module")
def far():
    """A cluster of two workers, processes of their own."""
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=":0") as running:
        yield running


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    """A paper's plan, bank and key."""
    return furnish(tmp_path_factory.mktemp("far"))


def invoke(*words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    assert "Traceback" not in outcome.output
    return outcome.output


def paper(place, out, *words, code=0):
    return invoke("paper", place / "plan.yaml", "--key", place / "our.key", "--only-bank", place / "bank", "--out", place / out,
                  *words, code=code)


def halved(common, task):
    return len(common) / task


def busy(common, task):
    time.sleep(0.05)
    return os.getpid()


def test_a_paper_has_the_same_bytes_from_one_process_two_and_a_cluster(place, far):
    paper(place, "one", "--jobs", 1)
    paper(place, "two", "--jobs", 2)
    paper(place, "far", "--scheduler", far.scheduler_address)
    made = contents(place / "one")
    assert set(made) == {"questions.pdf", "answers.pdf", "seating.pdf", "equity.pdf", "record.json"}
    assert made == contents(place / "two") == contents(place / "far")


def test_a_worksheet_has_the_same_bytes_from_one_process_and_a_cluster(place, far):
    words = ("worksheet", "--count", 3, "--out")
    invoke(*words, place / "sheets-one", "--jobs", 1)
    invoke(*words, place / "sheets-far", "--scheduler", far.scheduler_address.removeprefix("tcp://"))
    assert contents(place / "sheets-one") == contents(place / "sheets-far") != {}


def test_work_comes_back_in_order_from_both_workers_and_an_error_as_it_was(far):
    common = b"c" * 10_000                                  # large enough to be sent once, and kept there
    with cluster_workers(far.scheduler_address) as workers:
        assert list(results(halved, common, range(1, 30), workers)) == list(results(halved, common, range(1, 30)))
        assert len(set(results(busy, common, range(12), workers))) == 2
        with pytest.raises(ZeroDivisionError):
            list(results(halved, common, [1, 0, 2], workers))
        assert workers.ahead == 8, "four for each worker, however many tasks there are"


def test_a_worker_that_is_killed_is_replaced_and_nothing_is_lost(far):
    found = []
    with cluster_workers(far.scheduler_address) as workers:
        for worker in results(busy, b"c" * 10_000, range(40), workers):
            found.append(worker)
            if len(found) == 5:
                os.kill(found[0], signal.SIGKILL)
    assert len(found) == 40 and found[-1] != found[0]


def test_a_worker_of_another_version_is_told_before_anything_is_drawn(place, far, monkeypatch):
    ours = {**cluster.parts_here(), "sheetgen": "99.1", "numpy": "99.2"}
    monkeypatch.setattr(cluster, "parts_here", lambda: ours)
    said = paper(place, "other", "--scheduler", far.scheduler_address, code=2)
    assert re.search(r"2 workers, tcp://127\.0\.0\.1:\d+ and others: found sheetgen [\d.]+, wanted 99\.1, as here", said)
    assert re.search(r"2 workers, .*: found numpy [\d.]+, wanted 99\.2, as here", said)
    assert len([line for line in said.splitlines() if not line.startswith("Remark")]) == 2
    assert not (place / "other").exists()


def test_a_worker_without_sheetgen_is_told():
    [fault] = cluster._faults({"tcp://192.0.2.7:1": None})
    assert (fault.file, fault.found) == ("the worker tcp://192.0.2.7:1", "no sheetgen of this version")


def test_a_worker_that_joins_later_with_another_version_does_nothing(far, monkeypatch):
    with cluster_workers(far.scheduler_address) as workers:
        ours = {**cluster.parts_here(), "numpy": "99.2"}
        monkeypatch.setattr(cluster, "parts_here", lambda: ours)
        with pytest.raises(WorkersError, match=r"joined since: found numpy [\d.]+, wanted 99\.2"):
            list(results(halved, b"", [1], workers))


def test_a_scheduler_that_cannot_be_reached_is_told_before_anything_is_drawn(place, monkeypatch):
    monkeypatch.setattr(cluster, "REACHED_IN", 0.5)
    for address, told in (("127.0.0.1:1", "no scheduler at 127.0.0.1:1 that answers"), ("here", "'here'"),
                          ("tls://127.0.0.1:1", "wants TLS")):
        assert re.search(f"--scheduler: found .*{told}", paper(place, "none", "--scheduler", address, code=2))
    assert not (place / "none").exists()
    assert "one of both" in paper(place, "none", "--scheduler", "127.0.0.1:1", "--jobs", 2, code=2)


def test_a_scheduler_without_workers_is_told_and_one_that_loses_them_too(place, monkeypatch):
    monkeypatch.setattr(cluster, "LOOKED_AFTER", 0.2)
    with LocalCluster(n_workers=1, threads_per_worker=1, processes=False, protocol="tcp://",
                      dashboard_address=":0") as small:
        with cluster_workers(small.scheduler_address) as workers, pytest.raises(WorkersError, match="no workers left"):
            for number, _ in enumerate(results(busy, b"", range(100), workers)):
                if number == 3:
                    small.scale(0)
        said = paper(place, "none", "--scheduler", small.scheduler_address, code=2)
        assert "found no workers, wanted one at least" in said
    assert not (place / "none").exists()


def test_a_scheduler_that_goes_is_told():
    with (LocalCluster(n_workers=1, threads_per_worker=1, processes=False, protocol="tcp://", dashboard_address=":0") as small,
          cluster_workers(small.scheduler_address) as workers, pytest.raises(WorkersError, match="found one that has gone")):
        for number, _ in enumerate(results(busy, b"", range(100), workers)):
            if number == 3:
                small.close()
