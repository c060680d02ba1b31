"""The entry point: commands loaded when called, and one converter from errors to messages and exit codes."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click

from labeltool import __version__
from labeltool.cli.output import fail, prepare_streams
from labeltool.errors import Exit, LabeltoolError
from labeltool.finding import Finding

COMMANDS = {  # where each is, and the first sentence of its help, so that the list imports none of them
    "start": ("labeltool.cli.start:start", "Make a new workshop folder, commented, that prints at once."),
    "declare": ("labeltool.cli.declare:declare",
        "The ingredient declaration for each market, and why it is in that order."),
    "check": ("labeltool.cli.check:check",
        "Every element a label must carry, market by market, present or missing, with its source; limits and claims."),
    "weigh": ("labeltool.cli.weigh:weigh",
        "The weighing sheet: grams by phase, how far off each may be, and room for lots and what was really weighed."),
    "print": ("labeltool.cli.printing:print_labels",
        "Open a batch of FORMULA and print its labels, or print more labels of a batch that is open."),
    "reprint": ("labeltool.cli.reprinting:reprint", "The same labels again, from the record alone."),
    "verify": ("labeltool.cli.verify:verify",
        "Read every label of a PDF back: two decoders, the words, the places, against the record."),
    "batch": ("labeltool.cli.batch:batch",
        "Batches on record: opened, weighed at the bench, released, taken back, listed and shown."),
    "lot": ("labeltool.cli.lot:lot",
        "Lots of raw materials: received, listed, shown with the batches they went into, blocked."),
    "trace": ("labeltool.cli.trace:trace",
        "The batches and prints that a lot, a material, an INCI name or a batch code touches."),
    "due": ("labeltool.cli.due:due",
        "Batches and lots near their dates, retained samples that may go, and how long records must be kept."),
    "stock": ("labeltool.cli.stock:stock", "Label stocks: sheets and rolls, named by their measures."),
    "artwork": ("labeltool.cli.artwork:artwork", "Artworks: which blocks of words and symbols stand where on a label."),
    "pages": ("labeltool.cli.pages:pages",
        "The batch record pages that the QR leads to: what anybody may know of a batch."),
    "records": ("labeltool.cli.records:records",
        "The record itself: proved, copied, written out as text, brought back."),
}


class Commands(click.Group):
    """A group whose commands are imported only when they are called."""

    def __init__(self, *args: Any, places: dict[str, tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.places = places

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of all commands, in the order a maker meets them."""
        return list(self.places)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, imported now; None for an unknown name."""
        if cmd_name not in self.places:
            return None
        module, _, attribute = self.places[cmd_name][0].partition(":")
        command: click.Command = getattr(import_module(module), attribute)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The commands and what each is for, as long as the line allows."""
        limit = formatter.width - 6 - max(map(len, self.places))
        rows = [(name, click.Command(name, help=text).get_short_help_str(limit))
                for name, (_, text) in self.places.items()]
        with formatter.section("Commands"):
            formatter.write_dl(rows)

    def resolve_command(self, ctx: click.Context, args: list[str]) -> Any:
        """The command that the first word names, or a usage error that says the nearest."""
        word = args[0]
        if word not in self.places and word[:1].isalnum():
            import difflib

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
    import traceback
    from pathlib import Path

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
