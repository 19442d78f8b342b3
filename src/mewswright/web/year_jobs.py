"""Years that are being worked out, each in a process of its own.

A search that hangs or crashes takes nothing along: the page says so and lives on. When the yard
file changes, the searches of its older states end.
"""

import atexit
import contextlib
import json
import subprocess
import sys
import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from pathlib import Path
from time import monotonic
from typing import Any, Literal

from mewswright.web.year_ask import YearAsk

State = Literal["running", "stopping", "done", "failed", "cancelled"]
GRACE_S = 30.0  # for reading the yard and compiling, beside the seconds that were asked for
MOST_RUNNING = 2  # at once: the one begun first ends with the best that it has
MOST_KEPT = 24  # finished ones


@dataclass
class Job:
    """One search.

    Args:
        ask: What is asked.
        mark: Mark of the yard file for which it is asked.
        child: Its process.
        begun: When it began [s].
    """

    ask: YearAsk
    mark: str
    child: "subprocess.Popen[str]"
    begun: float
    state: State = "running"
    phase: str = "reading the yard"
    best: float | None = None
    bound: float | None = None
    seconds: float = 0.0
    report: dict[str, Any] | None = None
    said: str = ""  # what went wrong
    lock: threading.Lock = field(default_factory=threading.Lock, repr=False)

    @property
    def is_over(self) -> bool:
        """Whether nothing more will come."""
        return self.state in ("done", "failed", "cancelled")

    @property
    def elapsed_s(self) -> float:
        """Time since it began, or that it took [s]."""
        return self.seconds if self.is_over else monotonic() - self.begun

    def heard(self, line: str) -> None:
        """Take in one line from the process."""
        try:
            told = json.loads(line)
        except ValueError:
            return  # a library's own chatter
        if not isinstance(told, dict):
            return
        self.phase = told.get("phase", self.phase)
        self.best = told.get("best", self.best)
        self.bound = told.get("bound", self.bound)
        if "report" in told:
            self.report = told["report"]
        self.said = told.get("problem", self.said)

    def over(self, code: int) -> None:
        """Close the books once the process has ended."""
        with self.lock:
            self.seconds = monotonic() - self.begun
            if self.report is not None:
                self.state = "done"
            elif self.state != "cancelled":
                self.state = "failed"
                self.said = self.said or (
                    f"The search ended without an answer (exit {code}). Try again with fewer weeks "
                    "or another number of seconds."
                )


class YearJobs:
    """All searches of one shown yard."""

    def __init__(self, path: Path) -> None:
        """Make ready; nothing runs yet.

        Args:
            path: The yard file.
        """
        self.path = path
        self._jobs: OrderedDict[tuple[str, str], Job] = OrderedDict()
        self._lock = threading.Lock()
        atexit.register(self.close)

    def find(self, mark: str, ask: YearAsk) -> Job | None:
        """The search for a state of the file, running or over; None where there was none."""
        with self._lock:
            return self._jobs.get((mark, ask.query))

    def latest(self, mark: str) -> Job | None:
        """The search that ended last with a plan, for a state of the file."""
        with self._lock:
            for (of, _), job in reversed(self._jobs.items()):
                if of == mark and job.report is not None and job.report.get("stays"):
                    return job
        return None

    def start(self, mark: str, ask: YearAsk) -> Job:
        """Begin a search, or give the one that runs for the same; a finished one begins anew."""
        with self._lock:
            known = self._jobs.get((mark, ask.query))
            if known is not None and not known.is_over:
                return known
            self._forget(mark)
            job = Job(ask, mark, self._child(), monotonic())
            self._jobs[mark, ask.query] = job
            self._jobs.move_to_end((mark, ask.query))
        threading.Thread(target=self._follow, args=(job,), daemon=True).start()
        return job

    def stop(self, job: Job) -> None:
        """End a search with the best that it has."""
        with job.lock:
            if job.state != "running":
                return
            job.state = "stopping"
        self._tell(job, "stop")
        threading.Timer(GRACE_S, self._kill, (job,)).start()

    def cancel(self, job: Job) -> None:
        """End a search at once, with nothing."""
        with job.lock:
            if job.is_over:
                return
            job.state = "cancelled"
        self._kill(job)

    def close(self) -> None:
        """End every search."""
        atexit.unregister(self.close)
        with self._lock:
            jobs = list(self._jobs.values())
        for job in jobs:
            self.cancel(job)

    def _child(self) -> "subprocess.Popen[str]":
        return subprocess.Popen(
            [sys.executable, "-m", "mewswright.web.year_child", str(self.path)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
        )

    def _forget(self, mark: str) -> None:
        """End what older states of the file asked, make room, and drop the oldest answers."""
        for key, job in list(self._jobs.items()):
            if key[0] != mark:
                self.cancel(job)
                del self._jobs[key]
        running = [job for job in self._jobs.values() if job.state == "running"]
        for job in running[: max(0, len(running) - MOST_RUNNING + 1)]:
            self.stop(job)
        over = [key for key, job in self._jobs.items() if job.is_over]
        for key in over[: max(0, len(over) - MOST_KEPT)]:
            del self._jobs[key]

    def _follow(self, job: Job) -> None:
        """Listen to a process until it ends; one that outstays its time is ended."""
        watch = threading.Timer(job.ask.seconds + GRACE_S, self.stop, (job,))
        watch.daemon = True
        watch.start()
        child = job.child
        try:
            self._tell(job, json.dumps(request_of(job.ask)))
            assert child.stdout is not None
            with child.stdout:
                for line in child.stdout:
                    job.heard(line)
        finally:
            watch.cancel()
            job.over(child.wait())
            if child.stdin is not None:
                with contextlib.suppress(OSError):
                    child.stdin.close()

    def _tell(self, job: Job, words: str) -> None:
        assert job.child.stdin is not None
        with contextlib.suppress(OSError, ValueError):  # it may have ended already
            job.child.stdin.write(f"{words}\n")
            job.child.stdin.flush()

    def _kill(self, job: Job) -> None:
        if job.child.poll() is None:
            job.child.kill()


def request_of(ask: YearAsk) -> dict[str, Any]:
    """What the child process is told of a question."""
    return {
        "from": f"{ask.start}",
        "weeks": ask.weeks,
        "seconds": ask.seconds,
        "lock": ask.lock,
        "forbid": ask.forbid,
        "without": ask.without,
        "grow": ask.grow,
    }
