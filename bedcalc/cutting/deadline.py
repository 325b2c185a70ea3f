"""Time limit of a search, and its cancelling."""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from time import perf_counter

__all__ = ["Deadline"]


class Deadline:
    """Time limit of a search that may also be cancelled.

    Parameters
    ----------
    seconds : float
        How long the search may take.
    cancel : callable, optional
        Returns True when somebody wants the search to stop.
    """

    def __init__(self, seconds: float, cancel: Callable[[], bool] | None = None):
        self.start = perf_counter()
        self.end, self.cancel = self.start + seconds, cancel

    @property
    def spent(self) -> float:
        """Seconds since the start."""
        return perf_counter() - self.start

    @property
    def left(self) -> float:
        """Seconds that are left."""
        return self.end - perf_counter()

    @property
    def over(self) -> bool:
        """Whether to stop now."""
        return self.left <= 0.005 or (self.cancel is not None and self.cancel())

    def run(self, work: Callable, *args, **kwargs):
        """The result of ``work``, or None if cancelled meanwhile.

        The work cannot be interrupted. If a cancel is possible it runs in a thread of
        its own, which is left behind to reach its own time limit.
        """
        if self.cancel is None:
            return work(*args, **kwargs)
        results, errors = [], []

        def step():
            try:
                results.append(work(*args, **kwargs))
            except BaseException as error:  # handed on to the caller below
                errors.append(error)

        thread = Thread(target=step, daemon=True)
        thread.start()
        while thread.is_alive():
            thread.join(0.05)
            if thread.is_alive() and self.cancel():
                return None
        if errors:
            raise errors[0]
        return results[0]
