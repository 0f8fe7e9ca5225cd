"""Workers of many machines, as an executor: those of a Dask cluster, reached by the address of its scheduler.

What travels is bytes that we have packed, so the scheduler needs nothing of ours. Every worker must have this very program and
its libraries: they are asked before anything is made, and each looks again at each piece of work, because others may join later.
"""

from __future__ import annotations

import logging
import pickle
import platform
import re
import threading
import warnings
import zlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import CancelledError, Executor, Future
from contextlib import contextmanager
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from typing import Any, ParamSpec, TypeVar

from sheetgen.faults import Fault, FaultError, shown
from sheetgen.serving import answer
from sheetgen.sets.local import AHEAD_EACH, settle
from sheetgen.sets.run import LIBRARIES, program_parts
from sheetgen.sets.workers import WorkersError
from sheetgen.version import __version__

P = ParamSpec("P")
T = TypeVar("T")

REACHED_IN = 10
"""Seconds in which a scheduler must answer."""

LOOKED_AFTER = 30.0
"""Seconds without a result after which it is asked whether there are workers left."""

LARGE = 4096
"""Bytes from which on an argument is sent once, and kept by the workers, instead of with every piece of work."""

KEPT = 4
"""Such arguments that the workers keep."""

_ADDRESS = re.compile(r"(?:(?:tcp|tls)://)?(?:[A-Za-z0-9._-]{1,253}|\[[0-9A-Fa-f:.]{2,45}\]):[0-9]{1,5}")

WANTED = "the address of a Dask scheduler that runs, as tcp://192.0.2.7:8786"

OWN = "sheetgen's own files"
"""As messages call the digest of them."""

_ALONE = threading.Lock()
"""One piece of work at a time in a process, however many threads a worker has."""


class ClusterError(FaultError):
    """A cluster that cannot be used. Nothing was made."""


@cache
def parts_here() -> Mapping[str, str]:
    """What must be the same on every machine, by name: this program, Python, the libraries."""
    names = (*LIBRARIES, "dask", "distributed")
    return {"sheetgen": __version__, OWN: program_parts()[0][:12], "Python": platform.python_version(),
            **{name: version(name) for name in names}}


@contextmanager
def cluster_workers(address: str) -> Iterator[ClusterWorkers]:
    """The workers of the cluster that the scheduler at ``address`` has.

    Raises: ClusterError if it cannot be reached, has no workers, or has one that is not of this version.
    """
    client = _client(address)
    try:
        _check(client, address)
        yield ClusterWorkers(client, address)
    finally:
        client.close(timeout=REACHED_IN)


def _client(address: str) -> Any:
    try:
        from distributed import Client, Security
    except ImportError:
        raise ClusterError([Fault("--scheduler", 0, "", "no Dask in this Python",
                                  "to install it: pip install \"orthographic-exercise-sheets[cluster]\"")]) from None
    if not _ADDRESS.fullmatch(address):
        raise ClusterError([Fault("--scheduler", 0, "", shown(address), WANTED)])
    if address.startswith("tls:") and Security().get_connection_args("client").get("ssl_context") is None:
        raise ClusterError([Fault("--scheduler", 0, "", "an address that wants TLS, and no certificates in Dask's configuration",
                                  "distributed.comm.tls there, with the cluster's certificates")])
    _quiet()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")                # of versions: we look at them ourselves
            return Client(address, timeout=REACHED_IN, set_as_default=False, name="sheetgen")
    except (OSError, ValueError):                          # ValueError: something answers that is no scheduler
        raise ClusterError([Fault("--scheduler", 0, "", f"no scheduler at {address} that answers", WANTED)]) from None


def _quiet() -> None:
    """Dask tells of lost connections in logs of its own; we tell what matters, in a line."""
    for name in ("distributed", *(name for name in logging.root.manager.loggerDict if name.startswith("distributed."))):
        logging.getLogger(name).setLevel(logging.CRITICAL + 1)


def _check(client: Any, address: str) -> None:
    """Raises: ClusterError with what is wrong with the workers, once for all that have it in common."""
    workers = list(client.nthreads())
    if not workers:
        raise ClusterError([Fault(f"the scheduler {address}", 0, "", "no workers", "one at least: dask worker ADDRESS")])
    pythons = {worker: told["host"]["python"] for worker, told in client.get_versions()["workers"].items()}
    here = ".".join(platform.python_version_tuple())
    same = [worker for worker in workers if pythons.get(worker, here).startswith(f"{here}.")]
    others = {worker: {"Python": pythons[worker].removesuffix(".final.0")} for worker in workers if worker not in same}
    told = client.run(_by_value(), workers=same, on_error="return") if same else {}
    faults = list(_faults({**others, **told}))
    if faults:
        raise ClusterError(faults)


def _by_value() -> Callable[[], Mapping[str, str] | None]:
    """A function that travels whole, because a worker may lack the module that it would be imported from."""
    def parts_there() -> Mapping[str, str] | None:
        try:
            from sheetgen.sets.cluster import parts_here
        except ImportError:
            return None
        return parts_here()
    return parts_there


def _faults(told: Mapping[str, Any]) -> Iterator[Fault]:
    """What workers have that is not as here. ``told``: what each has said of itself, or the error that it has come to."""
    having: dict[tuple[str, str], list[str]] = {}
    for worker, parts in sorted(told.items()):
        for pair in _differing(parts):
            having.setdefault(pair, []).append(worker)
    for (found, wanted), workers in having.items():
        who = f"the worker {workers[0]}" if len(workers) == 1 else f"{len(workers)} workers, {workers[0]} and others"
        yield Fault(who, 0, "", found, wanted)


def _differing(parts: Any) -> Iterable[tuple[str, str]]:
    """What a worker that has these ``parts`` has, and what is wanted."""
    if not isinstance(parts, Mapping):
        return [("no sheetgen of this version" if parts is None else f"an error: {str(parts)[:100]}", f"sheetgen {__version__}")]
    return list(_other(parts, parts_here()))


def _other(found: Mapping[str, str], wanted: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """The parts that are not as they should be, with what they should be."""
    for name, part in found.items():
        if part != wanted.get(name) and not (name == OWN and found.get("sheetgen") != wanted["sheetgen"]):
            yield f"{name} {part}", f"{wanted.get(name, 'none')}, as here"


class ClusterWorkers(Executor):
    """The workers that a ``client`` of Dask has; it does not end them."""

    def __init__(self, client: Any, address: str) -> None:
        self._client, self._address = client, address
        self._kept: dict[bytes, Any] = {}

    @property
    def ahead(self) -> int:
        """Pieces of work that wait or are being done, so that all are kept busy."""
        return AHEAD_EACH * max(1, len(self._client.nthreads()))

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Have some work done."""
        sent = {n: arg for n, arg in enumerate(args) if isinstance(arg, bytes) and len(arg) > LARGE}
        words = [None if n in sent else arg for n, arg in enumerate(args)]
        parcel = pickle.dumps((fn, words, kwargs, list(sent)), pickle.HIGHEST_PROTOCOL)
        kept = [self._keep(arg) for arg in sent.values()]
        return _Far(self._client.submit(_carried(), dict(parts_here()), parcel, *kept, pure=False), self._lost)

    def _keep(self, packed: bytes) -> Any:
        """What workers keep; whoever of them is lost, it can be made again from what the scheduler has."""
        name = sha256(packed).digest()
        if name not in self._kept:
            while len(self._kept) >= KEPT:
                del self._kept[next(iter(self._kept))]
            self._kept[name] = self._client.submit(bytes, packed, pure=False)
        return self._kept[name]

    def _lost(self, why: BaseException | None) -> WorkersError | None:
        """What to tell if a result does not come, or if Dask says ``why`` it never will; None: to wait."""
        scheduler = f"the scheduler {self._address}"
        if why is None:
            if self._client.status == "running" and self._client.nthreads():
                return None
            return WorkersError([Fault(scheduler, 0, "", "no workers left", "workers, and the same command again")])
        if isinstance(why, ImportError):
            return WorkersError([Fault("a worker", 0, "", "no sheetgen of this version", f"sheetgen {__version__}")])
        if isinstance(why, CancelledError | OSError):
            return WorkersError([Fault(scheduler, 0, "", "one that has gone",
                                       "a scheduler that stays, and the same command again")])
        return WorkersError([Fault("the workers", 0, "", "some that were ended at one piece of work: perhaps memory ran out",
                                   "more memory for each, and the same command again")])


class _Far(Future[T]):
    """A result that comes from another machine. ``lost``: what to tell if it does not."""

    def __init__(self, there: Any, lost: Callable[[BaseException | None], WorkersError | None]) -> None:
        super().__init__()
        self._there, self._lost = there, lost

    def result(self, timeout: float | None = None) -> T:
        """Wait for it. Raises: what the work raises; WorkersError if workers or scheduler are lost."""
        from distributed import KilledWorker

        while not self.done():
            try:
                packed = self._there.result(timeout=LOOKED_AFTER)
            except TimeoutError:
                told = self._lost(None)
                if told is not None:
                    raise told from None
            except (CancelledError, ImportError, KilledWorker, OSError) as why:
                raise self._lost(why) or why from None
            else:
                settle(self, zlib.decompress(packed))
        return super().result(timeout)

    def cancel(self) -> bool:
        """It is not wanted any more."""
        self._there.release()
        return super().cancel()


def _carried() -> Callable[..., bytes]:
    """Work as it travels: whole, so that a scheduler, which looks at what it passes on, need not have our modules."""
    def sheet(expected: Mapping[str, str], parcel: bytes, *kept: bytes) -> bytes:
        from sheetgen.sets.cluster import done_there

        return done_there(expected, parcel, *kept)
    return sheet


def done_there(expected: Mapping[str, str], parcel: bytes, *kept: bytes) -> bytes:
    """What a worker does with a ``parcel`` of whom expects these parts of it; the answer as ``serve`` would send it, pressed."""
    with _ALONE:
        return zlib.compress(answer(lambda: _work_of(expected, parcel, kept)), 1)


def _work_of(expected: Mapping[str, str], parcel: bytes, kept: Iterable[bytes]) -> tuple[Callable[..., Any], list[Any], Any]:
    others = list(_other(parts_here(), expected))
    if others:
        raise WorkersError([Fault("a worker that has joined since", 0, "", found, wanted) for found, wanted in others])
    work, words, named, places = pickle.loads(parcel)      # of whom this cluster trusts: its clients can run programs anyway
    for place, arg in zip(places, kept, strict=True):
        words[place] = arg
    return work, words, named
