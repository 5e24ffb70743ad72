"""An archive made by a cluster: the same bytes as in one process, and a worker that is killed costs nothing but time."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from dossier.publish import cluster as clusters
from tests.publish.growth.yard import Tree, Yard, tree

distributed = pytest.importorskip("distributed", reason="not installed: the extra 'cluster' (dask.distributed)")
ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def cluster() -> Iterator[Any]:
    """A scheduler and two worker processes on this machine."""
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address="127.0.0.1:0") as local:
        yield local


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Yard:
    return Yard(tmp_path_factory.mktemp("yard"))


@pytest.fixture(scope="module")
def whole(yard: Yard) -> Tree:
    return yard.cold()


def test_a_cluster_of_two_gives_the_bytes_of_one_process(yard: Yard, whole: Tree, cluster: Any) -> None:
    assert "3 builds: clean" in yard.publish("--no-cache", "--scheduler", cluster.scheduler_address)
    assert tree(yard.out) == whole and yard.left() == []


def test_a_worker_killed_at_its_work_changes_no_byte(yard: Yard, whole: Tree, cluster: Any) -> None:
    with distributed.Client(cluster.scheduler_address, set_as_default=False) as client:
        client.wait_for_workers(2, timeout=60)
        workers = client.run(os.getpid)
        words = ["publish", yard.path, "--for", "public", "--out", yard.folder / "other", "--no-cache", "--scheduler", cluster.scheduler_address]
        run = subprocess.Popen([sys.executable, "-m", "dossier.cli", *map(str, words)], cwd=ROOT, stdout=subprocess.PIPE, text=True)
        victim, attempts = None, set()
        while run.poll() is None:
            attempts |= set(yard.folder.glob(".other.attempts-*/*"))
            if len(attempts) > 1 and victim is None:  # both are at work
                busy = [address for address, tasks in client.processing().items() if tasks]
                victim = workers[busy[0]] if busy else None
                if victim:
                    os.kill(victim, signal.SIGKILL)
            time.sleep(0.01)
        assert run.returncode == 0 and "3 builds: clean" in run.communicate()[0]
        assert victim is not None
        assert len(attempts) > 3, "an attempt was begun by the worker that was killed, and its build made again by another"
    assert tree(yard.folder / "other") == whole and yard.left() == []


def test_all_errors_are_said_and_nothing_is_published(yard: Yard, cluster: Any) -> None:
    yard.publish("--no-cache")
    before = tree(yard.out)
    yard.write("machine-0004", "110.0 mm", "110,0 mm")
    told = yard.publish("--scheduler", cluster.scheduler_address)
    yard.write("machine-0004", "110,0 mm", "110.0 mm")
    assert told.startswith("exit 1") and "decimal-comma" in told and tree(yard.out) == before


def test_a_scheduler_that_is_not_there_is_said(yard: Yard, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "PATIENCE", 1)
    before = tree(yard.out)
    yard.write("machine-0004", "78.9 kg", "78.8 kg")
    told = yard.publish("--scheduler", "tcp://127.0.0.1:9")
    assert told.startswith("exit 2") and "no scheduler answers at tcp://127.0.0.1:9" in told and tree(yard.out) == before


def test_without_its_library_the_cluster_says_what_to_install(yard: Yard, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    told = yard.publish("--scheduler", "tcp://127.0.0.1:9")
    assert told.startswith("exit 2") and "pip install 'dossier[cluster]'" in told
