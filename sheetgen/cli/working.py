"""Who does the work of a set: this process, others of this machine, or the machines of a cluster."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from concurrent.futures import Executor


@contextmanager
def cluster_asked(scheduler: str | None, jobs: int | None) -> Iterator[Executor | None]:
    """The workers of a cluster, if its scheduler is named: looked at before there is anything to lose. Raises: ClusterError."""
    if scheduler is None:
        yield None
        return
    if jobs is not None:
        raise click.UsageError("--jobs is for this machine, --scheduler for others: one of both")
    from sheetgen.sets.cluster import cluster_workers

    with cluster_workers(scheduler) as workers:
        yield workers


@contextmanager
def workers_for(count: int, jobs: int | None, far: Executor | None) -> Iterator[Executor | None]:
    """Who makes so many exercises: ``far``, if there is a cluster; or so many processes of this machine, None for this alone."""
    if far is not None:
        yield far
        return
    from sheetgen.sets import FEW, cores, local_workers

    with local_workers(min(jobs or (cores() if count > FEW else 1), count)) as executor:
        yield executor
