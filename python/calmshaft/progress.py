"""A bar on standard error: points done, rate, time left."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def bar(total: int, wanted: bool, already: int = 0) -> Iterator[Callable[[int], None] | None]:
    """What to call with the points done since the start, or None. `already` were done before and take no time.

    The time left follows the mean rate since the start, because neighbouring points cost alike and a rate of the
    last seconds would swing with the axis that changes.
    """
    if not wanted:
        yield None
        return
    from tqdm.auto import tqdm

    with tqdm(total=total, initial=already, unit="point", smoothing=0.0) as shown:
        yield lambda done: shown.update(already + done - shown.n) and None
