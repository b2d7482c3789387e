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
from collections.abc import Callable, Iterable, Iterator
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
        self._second: _Second[Question] | None = _Second(worker) if two and _can_fork() else None

    def __enter__(self) -> Hands[Question]:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, wrong: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._second is not None:
            self._second.end()

    def ask(self, question: Question, ahead: Ahead[Question]) -> Any:
        """The answer to a question, each asked once."""
        self.give(ahead, besides=question)
        while question not in self._done:
            if question not in self._given:
                return self._worker.work(question)
            other = None if self._heard() else next(self._free(ahead), None)
            if other is None:
                self._hear()
            else:
                self._done[other] = self._worker.work(other)
            self.give(ahead)
        return self._done.pop(question)

    def give(self, ahead: Ahead[Question], *, many: int = IN_HAND, besides: Question | None = None) -> None:
        """Keeps the second hand busy with what will probably be asked."""
        while self._heard():
            self._hear()
        if self._second is None or len(self._given) >= many:
            return
        for question in self._free(ahead):
            if question != besides:
                self._given.add(question)
                self._second.give(question)
                if len(self._given) >= many:
                    return

    def _free(self, ahead: Ahead[Question]) -> Iterator[Any]:
        return (one for one in ahead() if one not in self._given and one not in self._done)

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
    gc.freeze()  # what both hands share stays shared
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
