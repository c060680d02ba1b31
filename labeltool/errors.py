"""What cannot go on: exceptions with the exit code that the command line gives them."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum

from labeltool.finding import Finding, Where


class Exit(IntEnum):
    """Exit codes of the command line."""

    DONE = 0
    PUT_RIGHT = 1
    INPUT = 2
    MACHINE = 3


class LabeltoolError(Exception):
    """Base of every error this project raises on purpose; carries the findings to show."""

    exit_code = Exit.INPUT

    def __init__(self, findings: Iterable[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__("; ".join(item.text for item in self.findings))


class InputError(LabeltoolError):
    """The input or the call is wrong; nothing was written (exit 2)."""


class MachineError(LabeltoolError):
    """The record or the machine failed: full disk, locked or damaged record; nothing was lost (exit 3)."""

    exit_code = Exit.MACHINE


def input_error(rule: str, text: str, *, do: str | None = None, limit: str | None = None,
                where: Where | None = None) -> InputError:
    """An InputError of one finding."""
    return InputError([Finding(rule, "error", text, where or Where(), limit=limit, do=do)])


def machine_error(rule: str, text: str, *, do: str | None = None) -> MachineError:
    """A MachineError of one finding."""
    return MachineError([Finding(rule, "error", text, do=do)])
