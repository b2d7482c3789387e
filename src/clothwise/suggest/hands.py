"""Two hands at one list of questions: this process, and the same once more on another core, which works ahead.

What a question gives must depend on nothing but the question. Then it is the same whoever looked, and only the
time differs: the first hand asks in its own order, and finds ready what the second has looked at meanwhile.
While the second still looks at what is wanted, the first takes the next question itself.

The second hand is this process as it stood when both began (forked). With one core, or where that is not to be
had, the first does all. If the second fails or is ended, the first takes its questions over, and meets
whatever is wrong itself.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable
from multiprocessing import Pipe
from multiprocessing.connection import Connection
from types import TracebackType
from typing import Any, Generic, Protocol, TypeVar

Question = TypeVar("Question")
Asked = TypeVar("Asked", contravariant=True)
Ahead = Callable[[], Iterable[Question]]  # what will probably be asked next, in that order
IN_HAND = 3  # questions given to the second hand at a time: it never waits, and seldom works in vain


class Worker(Protocol[Asked]):
    """Who answers the questions, in either hand."""

    def work(self, question: Asked) -> Any:
        """The answer; from the second hand it comes pickled."""

    def for_second(self, question: Asked) -> bool:
        """Whether the second hand should rather have it, for it has the like at hand already."""

    def set_apart(self) -> None:
        """Said once in the second hand: files that are open belong to the first."""

    def news(self) -> Any:
        """What the second hand has learnt besides, for the first."""

    def learn(self, news: Any) -> None:
        """Takes that over."""


class Hands(Generic[Question]):
    """Both hands. `two`: whether a second one is wanted; it ends with the `with`."""

    def __init__(self, worker: Worker[Question], *, two: bool) -> None:
        self._worker = worker
        self._done: dict[Question, Any] = {}
        self._given: set[Question] = set()
        gc.freeze()  # all there is will be needed to the end, and stays shared
        self._second: _Second[Question] | None = _Second(worker) if two and _can_fork() else None

    def __enter__(self) -> Hands[Question]:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, wrong: BaseException | None, trace: TracebackType | None
    ) -> None:
        gc.unfreeze()
        if self._second is not None:
            self._second.end()

    def ask(self, question: Question, ahead: Ahead[Question], *, many: int = IN_HAND) -> Any:
        """The answer to a question, each asked once."""
        while question not in self._done:
            self.give(ahead, many=many, first=question)
            if question not in self._given:
                return self._done.pop(question) if question in self._done else self._worker.work(question)
            other = None if self._heard() else self._own(ahead)
            if other is None:
                self._hear()
            else:
                self._done[other] = self._worker.work(other)
        return self._done.pop(question)

    def give(self, ahead: Ahead[Question], *, many: int = IN_HAND, first: Question | None = None) -> None:
        """Keeps the second hand busy with what will probably be asked.

        first   is asked now: the second hand gets it when it should have it, else the first one keeps it
        """
        while self._heard():
            self._hear()
        if self._second is None:
            return
        if first is not None and self._is_free(first) and self._worker.for_second(first):
            self._hand_over(first)
        if len(self._given) < many:
            free = [one for one in ahead() if self._is_free(one) and one != first]
            for one in sorted(free, key=self._worker.for_second, reverse=True)[: many - len(self._given)]:
                self._hand_over(one)

    def _own(self, ahead: Ahead[Question]) -> Question | None:
        """What the first hand does meanwhile: rather what is not for the second."""
        free = (one for one in ahead() if self._is_free(one))
        return min(free, key=self._worker.for_second, default=None)

    def _is_free(self, question: Question) -> bool:
        return question not in self._given and question not in self._done

    def _hand_over(self, question: Question) -> None:
        assert self._second is not None
        self._given.add(question)
        self._second.give(question)

    def _heard(self) -> bool:
        return self._second is not None and bool(self._given) and self._second.wire.poll()

    def _hear(self) -> None:
        """Waits for an answer of the second hand; when it has ended, all it had is free again."""
        assert self._second is not None
        try:
            question, answer, news = self._second.wire.recv()
        except (EOFError, OSError):
            self._second.end()
            self._second = None
            self._given.clear()
            return
        self._given.discard(question)
        self._done[question] = answer
        self._worker.learn(news)


class _Second(Generic[Question]):
    """The second hand, seen from the first."""

    def __init__(self, worker: Worker[Question]) -> None:
        self.wire, theirs = Pipe()
        self.process = os.fork()
        if not self.process:
            self.wire.close()
            _serve(worker, theirs)
        theirs.close()

    def give(self, question: Question) -> None:
        try:
            self.wire.send(question)
        except OSError:
            return  # it has ended: the next word from it says so

    def end(self) -> None:
        self.wire.close()
        os.kill(self.process, signal.SIGKILL)  # not waited for yet, so the number is still its own
        os.waitpid(self.process, 0)


def _serve(worker: Worker[Any], wire: Connection) -> None:
    """The whole life of the second hand. Never returns: what is open and unsaid is the first's to close."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the first hand, which ends this one
    try:
        worker.set_apart()
        while True:
            question = wire.recv()
            wire.send((question, worker.work(question), worker.news()))
    finally:
        os._exit(0)


def _can_fork() -> bool:
    """Two cores, and a process that may be doubled: no thread of it holds a lock for ever after."""
    if not hasattr(os, "fork") or sys.platform == "darwin" or threading.active_count() > 1:
        return False  # on a Mac, libraries of the system do not live through it
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return cores > 1
