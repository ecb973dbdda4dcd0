"""Jobs on somebody's executor: few in flight at a time, tried again where a worker died, cancelled on Ctrl-C."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, CancelledError, Future, wait
from typing import Any

from calmshaft._core import LineError

IN_FLIGHT = 64  # jobs handed over and not yet back: enough for many workers, little memory
TRIES = 3  # of one job; what fails three times on three workers fails by itself


def on_executor(
    executor: Any, function: Callable[..., Any], jobs: Iterable[tuple[int, tuple[Any, ...]]], in_flight: int = IN_FLIGHT
) -> Iterator[tuple[int, Any]]:
    """function(*arguments) for each (number, arguments), as (number, result) in the order they finish.

    executor: a concurrent.futures.Executor, or an object with get_executor(), such as a Dask client. `jobs` is
    asked for more only as results come back. Raises what a job raises: a LineError at once, another error after
    `TRIES` tries, BrokenExecutor where the executor takes no more. What has not begun is cancelled then and on Ctrl-C.
    """
    pool = executor.get_executor() if hasattr(executor, "get_executor") else executor
    waiting, flying = iter(jobs), {}
    try:
        while True:
            while len(flying) < in_flight and (job := next(waiting, None)):
                number, arguments = job
                flying[pool.submit(function, *arguments)] = (number, arguments, 1)
            if not flying:
                return
            for future in wait(flying, return_when=FIRST_COMPLETED).done:
                number, arguments, tries = flying.pop(future)
                if not _to_be_tried_again(future, tries):
                    yield number, future.result()
                    continue
                flying[pool.submit(function, *arguments)] = (number, arguments, tries + 1)
    finally:
        for future in flying:
            future.cancel()


def _to_be_tried_again(future: Future[Any], tries: int) -> bool:
    error = CancelledError() if future.cancelled() else future.exception()
    hopeless = error is None or isinstance(error, LineError | BrokenExecutor) or not isinstance(error, Exception)
    return not hopeless and tries < TRIES
