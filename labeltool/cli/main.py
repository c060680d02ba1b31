"""The entry point: commands loaded when called, and one converter from errors to messages and exit codes."""

from __future__ import annotations

import difflib
import os
import sys
import traceback
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from labeltool import __version__
from labeltool.cli.output import fail, prepare_streams
from labeltool.errors import Exit, LabeltoolError
from labeltool.finding import Finding

COMMANDS = {
    "start": "labeltool.cli.start:start",
    "declare": "labeltool.cli.declare:declare",
    "check": "labeltool.cli.check:check",
    "weigh": "labeltool.cli.weigh:weigh",
    "print": "labeltool.cli.printing:print_labels",
    "reprint": "labeltool.cli.reprinting:reprint",
    "verify": "labeltool.cli.verify:verify",
    "batch": "labeltool.cli.batch:batch",
    "lot": "labeltool.cli.lot:lot",
    "trace": "labeltool.cli.trace:trace",
    "due": "labeltool.cli.due:due",
    "stock": "labeltool.cli.stock:stock",
    "artwork": "labeltool.cli.artwork:artwork",
    "pages": "labeltool.cli.pages:pages",
    "records": "labeltool.cli.records:records",
}


class Commands(click.Group):
    """A group whose commands are imported only when they are called or listed."""

    def __init__(self, *args: Any, places: dict[str, str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.places = places

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of all commands, in the order a maker meets them."""
        return list(self.places)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now; None for an unknown name."""
        place = self.places.get(cmd_name)
        if place is None:
            return None
        module, _, attribute = place.partition(":")
        command: click.Command = getattr(import_module(module), attribute)
        return command

    def resolve_command(self, ctx: click.Context, args: list[str]) -> Any:
        """The command that the first word names, or a usage error that says the nearest."""
        word = args[0]
        if word not in self.places and word[:1].isalnum():
            near = difflib.get_close_matches(word, self.places, 1)
            ctx.fail(f"there is no command {word!r}" + (f"; did you mean {near[0]}?" if near else ""))
        return super().resolve_command(ctx, args)


_SETTINGS = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


@click.group(cls=Commands, places=COMMANDS, context_settings=_SETTINGS)
@click.version_option(__version__, prog_name="labeltool")
def main() -> None:
    """Labels that tell the truth, for people who make skin care by the batch.

    From a formula file to printed labels: the list of ingredients in the order the law asks, a batch code,
    the best-before date, the warnings and a QR code, on sheets or rolls; on record, and printable again later.

    \b
    Example:
      labeltool start shop
      labeltool print shop/formulas/*.toml
      labeltool verify shop/prints/CODE-1.pdf

    Exit codes: 0 done; 1 done, but something must be put right; 2 the input or the call is wrong, nothing
    was written; 3 the record or the machine failed, nothing was lost.
    """


def run(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit code; no exception reaches the user."""
    args = list(sys.argv[1:] if arguments is None else arguments)
    prepare_streams()
    sys.exit(int(_run(args)))


def _run(args: list[str]) -> int:
    as_json = "--json" in args
    try:
        result = main.main(args=args, prog_name="labeltool", standalone_mode=False)
        return result if isinstance(result, int) else Exit.DONE
    except LabeltoolError as error:
        fail(error.findings, as_json=as_json)
        return error.exit_code
    except click.exceptions.Exit as leave:
        return leave.exit_code
    except (click.Abort, KeyboardInterrupt):
        return _stopped(as_json)
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message(), err=True)
        return Exit.INPUT
    except click.ClickException as error:
        fail([_usage_finding(error)], as_json=as_json)
        return Exit.INPUT
    except BrokenPipeError:
        sys.stderr.close()
        return Exit.DONE
    except (OSError, MemoryError) as error:
        fail([_machine_finding(error)], as_json=as_json)
        return Exit.MACHINE
    except Exception as error:
        if "LABELTOOL_TRACE" in os.environ:
            raise
        fail([_fault(error)], as_json=as_json)
        return Exit.MACHINE


def _stopped(as_json: bool) -> int:
    text = "stopped before the end"
    fail([Finding("call.stopped", "error", text, do="run the same command again")], as_json=as_json)
    return Exit.INPUT


def _usage_finding(error: click.ClickException) -> Finding:
    context = getattr(error, "ctx", None)
    path = context.command_path if context is not None else "labeltool"
    return Finding("call.usage", "error", error.format_message(), do=f"{path} --help shows the options and an example")


def _fault(error: Exception) -> Finding:
    """A fault of the program itself, told as one: where it happened, and how to send it in."""
    frame = traceback.extract_tb(error.__traceback__)[-1]
    place = f"{Path(frame.filename).name}, line {frame.lineno}"
    text = f"a fault of labeltool itself: {type(error).__name__} in {place}: {error}"
    do = "report it with the files that caused it; LABELTOOL_TRACE=1 says more"
    return Finding("machine.fault", "error", text, do=do)


def _machine_finding(error: OSError | MemoryError) -> Finding:
    if isinstance(error, MemoryError):
        return Finding("machine.memory", "error", "the machine has no memory left", do="print fewer labels at a time")
    name = f"{error.filename}: " if error.filename else ""
    text = f"{name}{error.strerror or error}"
    return Finding("machine.files", "error", text, do="look at the disk's free space and the folder's permissions")
