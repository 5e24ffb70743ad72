"""Work handed to a cluster through a Dask scheduler; the only file that knows dask.distributed.

Every worker must have this program installed and see the same folders under the same paths. The scheduler asks nobody who he is:
it belongs on a network of one's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from typing import TypeVar

Job = TypeVar("Job")
Done = TypeVar("Done")

AHEAD = 2
"""Pieces of work handed out beforehand for each thread of the cluster."""
PATIENCE = 30
"""Seconds to wait for the scheduler and for its first worker."""


class ClusterError(RuntimeError):
    """The cluster cannot be used: not installed here, not reached, or without a worker."""


def each_on_cluster(scheduler: str, work: Callable[[Job], Done], jobs: Iterable[Job]) -> Iterator[Done]:
    """What comes of each job, as it is done; a job whose worker is lost is handed to another. Raises ClusterError."""
    try:
        from distributed import Client, as_completed
    except ImportError as fault:
        raise ClusterError("the cluster's library is not installed: pip install 'dossier[cluster]'") from fault
    try:
        client = Client(scheduler, timeout=PATIENCE, set_as_default=False)
    except (OSError, ValueError) as fault:
        raise ClusterError(f"no scheduler answers at {scheduler}: {fault}") from fault
    with client:
        try:
            client.wait_for_workers(1, timeout=PATIENCE)
        except TimeoutError as fault:
            raise ClusterError(f"the scheduler at {scheduler} has no worker") from fault
        jobs = iter(jobs)
        threads = sum(client.nthreads().values())
        running = as_completed([client.submit(work, job, pure=False) for job in islice(jobs, threads * AHEAD)], loop=client.loop)
        for one in running:
            yield one.result()
            one.release()
            for job in islice(jobs, 1):
                running.add(client.submit(work, job, pure=False))
