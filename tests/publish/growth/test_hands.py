"""Who does the work: little is handed out beforehand, what goes wrong in one place ends the rest, one job costs no other process."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest

from dossier.publish.hands import AHEAD, Hands, each


def doubled(number: int) -> tuple[int, int]:
    return 2 * number, os.getpid()


def refused(number: int) -> int:
    if number == 3:
        raise LookupError("three")
    return number


def counted(many: int, pulled: list[int]) -> Iterator[int]:
    for number in range(many):
        pulled.append(number)
        yield number


def test_all_is_done_once_in_other_processes() -> None:
    done = list(each(Hands(cores=2), doubled, iter(range(9)), 9))
    assert sorted(number for number, _ in done) == [0, 2, 4, 6, 8, 10, 12, 14, 16]
    assert os.getpid() not in {process for _, process in done}


@pytest.mark.parametrize(("cores", "count"), [(1, 3), (2, 1)])
def test_one_core_or_one_job_is_done_here(cores: int, count: int) -> None:
    assert {process for _, process in each(Hands(cores), doubled, iter(range(count)), count)} == {os.getpid()}


def test_jobs_are_taken_only_when_they_are_about_to_be_handed_out() -> None:
    pulled: list[int] = []
    work = each(Hands(cores=2), doubled, counted(100, pulled), 100)
    for _ in range(10):
        next(work)
    assert len(pulled) <= 10 + 2 * AHEAD
    work.close()  # type: ignore[attr-defined]
    assert len(pulled) <= 10 + 2 * AHEAD


@pytest.mark.parametrize("cores", [1, 2])
def test_what_the_work_raises_is_raised_here_and_ends_the_rest(cores: int) -> None:
    pulled: list[int] = []
    with pytest.raises(LookupError, match="three"):
        list(each(Hands(cores), refused, counted(100, pulled), 100))
    assert len(pulled) < 20
