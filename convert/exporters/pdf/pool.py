"""Many PDFs at once: workers that load the PDF library once each and then render one page after another.

Every page is rendered in a copy of its worker, under the limits of a single PDF, and comes out the same to the byte.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from queue import SimpleQueue
from tempfile import TemporaryDirectory
from threading import Timer
from types import TracebackType
from typing import IO, Any, Self

from convert.document.records import Document
from convert.errors import OutputRefused
from convert.exporters.pdf.form import (
    PdfOptions,
    environment_of,
    fonts_in,
    refusal,
    render_pdf,
    render_with,
    request_of,
    taken_apart,
    too_long,
)
from convert.exporters.written import WrittenFile
from convert.fabric.results import Proof
from convert.findings import Finding
from convert.grader.results import Grading

COPIES = hasattr(os, "fork")
"""Whether the system can copy a process; where not, every PDF is made in a new process."""


class PdfPool:
    """Workers that make PDFs, to be used in a `with` statement and from as many threads as there are workers."""

    def __init__(self, workers: int, environment: Mapping[str, str]) -> None:
        """`environment` holds the variables that the system needs to find its libraries."""
        self._workers = workers
        self._options = PdfOptions(environment=environment)
        self._free: SimpleQueue[_Worker] = SimpleQueue()
        self._room = TemporaryDirectory(prefix="tallyhook-")

    def __enter__(self) -> Self:
        """Starts the workers."""
        room = Path(self._room.name)
        fonts = fonts_in(room)
        for _ in range(self._workers if COPIES else 0):
            self._free.put(_Worker(room, fonts, environment_of(room, fonts, self._options)))
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Ends the workers."""
        while not self._free.empty():
            self._free.get().end()
        self._room.cleanup()

    def write(
        self, document: Document, grading: Grading | None, proof: Proof | None, options: PdfOptions
    ) -> WrittenFile:
        """One PDF, as `write_pdf` makes it. Raises OutputRefused likewise."""
        return render_with(self._render if COPIES else render_pdf, document, grading, proof, options)

    def _render(
        self, html: str, epoch: int, options: PdfOptions, languages: Mapping[str, str]
    ) -> tuple[bytes, tuple[Finding, ...]]:
        worker = self._free.get()
        try:
            return worker.render(request_of(html, epoch, options, languages), options)
        finally:
            self._free.put(worker)


class _Worker:
    """One process that keeps the library loaded. One that was given up starts anew with the next request."""

    def __init__(self, room: Path, fonts: Path, environment: Mapping[str, str]) -> None:
        self._room = room
        self._fonts = fonts
        self._environment = environment
        self._process: subprocess.Popen[bytes] | None = None

    def render(self, request: Mapping[str, Any], options: PdfOptions) -> tuple[bytes, tuple[Finding, ...]]:
        """One PDF. Raises OutputRefused."""
        process = self._process or self._start()
        given_up: list[bool] = []

        def give_up() -> None:
            given_up.append(True)
            self._kill(process)

        watch = Timer(options.seconds, give_up)
        watch.start()
        try:
            status, reason, answer = _ask(process, {**request, "fonts": str(self._fonts)})
        except (OSError, ValueError) as error:
            self.end()
            raise (
                too_long(options.seconds)
                if given_up
                else OutputRefused(f"The PDF could not be made: the renderer ended ({error}).")
            ) from error
        finally:
            watch.cancel()
        if status or not answer:
            raise refusal(status, reason, options)
        return taken_apart(answer)

    def _start(self) -> subprocess.Popen[bytes]:
        # -P: nothing in the folder that the command was started from can stand in for a module.
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-m", "convert.exporters.pdf.child", "--serve"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            cwd=self._room,
            env=dict(self._environment),
            start_new_session=True,
        )
        return self._process

    @staticmethod
    def _kill(process: subprocess.Popen[bytes]) -> None:
        """Ends the worker and the copy that is at work: they are a group of their own."""
        os.killpg(process.pid, signal.SIGKILL)

    def end(self) -> None:
        """Ends the process."""
        process, self._process = self._process, None
        if process is not None:
            for stream in filter(None, (process.stdin, process.stdout)):
                stream.close()
            if process.poll() is None:
                self._kill(process)
            process.wait()


def _ask(process: subprocess.Popen[bytes], request: Mapping[str, Any]) -> tuple[int, str, bytes]:
    """Status, reason and answer. Raises OSError or ValueError where the process has gone."""
    into: IO[bytes] | None = process.stdin
    out: IO[bytes] | None = process.stdout
    assert into is not None
    assert out is not None
    said = json.dumps(request).encode("utf-8")
    into.write(f"{len(said)}\n".encode("ascii") + said)
    into.flush()
    head = json.loads(out.readline())
    return int(head["status"]), str(head["reason"]), out.read(int(head["bytes"]))
