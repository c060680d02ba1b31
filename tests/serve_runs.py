"""`pages serve` as a process of its own, for the tests that ask it."""

from __future__ import annotations

import signal
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path

from cli_runs import command, environment


@dataclass(frozen=True)
class Fetched:
    """An answer: status, headers in small letters, body."""

    status: int
    headers: dict[str, str]
    body: str


@dataclass(frozen=True)
class Server:
    """A running server: what it told at the start, and its process."""

    told: dict[str, str]
    process: subprocess.Popen[str]

    @property
    def port(self) -> int:
        return int(self.told["pages"].rsplit(":", 1)[1].strip("/"))

    def get(self, path: str, headers: Mapping[str, str] | None = None, *, host: str = "127.0.0.1",
            method: str = "GET") -> Fetched:
        """One request, whatever its path; redirects are not followed."""
        connection = HTTPConnection(host, self.port, timeout=20)
        try:
            connection.putrequest(method, path, skip_host="Host" in (headers or {}))
            for name, value in (headers or {}).items():
                connection.putheader(name, value)
            connection.endheaders()
            answer = connection.getresponse()
            body = answer.read().decode("utf-8", "replace")
            return Fetched(answer.status, {name.lower(): value for name, value in answer.getheaders()}, body)
        finally:
            connection.close()

    def cookie(self) -> dict[str, str]:
        """The bench's cookie, as a browser would send it after the address that was told."""
        path = self.told["bench"].split(f":{self.port}", 1)[1]
        return {"Cookie": self.get(path).headers["set-cookie"].split(";")[0]}

    def stop(self, with_signal: signal.Signals = signal.SIGINT) -> tuple[int, str, str]:
        """Exit code and what it said last. It is asked once more before, so that it surely runs."""
        self.get("/robots.txt")
        self.process.send_signal(with_signal)
        out, err = self.process.communicate(timeout=30)
        return self.process.returncode, out, err


def heed_ctrl_c() -> None:
    """As on a terminal: what runs in the background inherits a deaf ear for SIGINT."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@contextmanager
def serving(folder: Path, *options: object) -> Iterator[Server]:
    """A server of the workshop in `folder` at a free port."""
    process = subprocess.Popen(
        command("pages", "serve", "--port", "0", *options), cwd=folder, env=environment(), text=True,
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, preexec_fn=heed_ctrl_c,
    )
    try:
        yield Server(dict(_told(process)), process)
    finally:
        process.kill()
        process.communicate()


def _told(process: subprocess.Popen[str]) -> Iterator[tuple[str, str]]:
    assert process.stdout is not None and process.stderr is not None
    for line in process.stdout:
        name, _, value = line.strip().partition(": ")
        if not value:
            return
        yield name, value
    raise AssertionError(process.stderr.read())
