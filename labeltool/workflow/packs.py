"""Which pack and which of its labels a call means, and the inputs as they read for each of them."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.formula.model import MARKETS, Formula, Market, Pack, PackLabel
from labeltool.formula.sizes import find_pack, of_pack, pack_names, sizes
from labeltool.formula.vocabulary import LANGUAGES
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.design import carried, find_artworks
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.layouts import artwork_names

T = TypeVar("T")
USUAL = {"container": "back", "outer": "front-and-back"}  # where neither the label nor [print] names an artwork
LISTED, CAUTIONED = "ingredients", "warnings"


@dataclass(frozen=True, slots=True)
class Aim:
    """What one label is for. `inputs` read as the pack has them; `label` is None where the call names the artworks.

    `elsewhere`: list or precautions stand on the outer alone, and this label is on the container.
    """

    inputs: Inputs
    pack: Pack
    label: PackLabel | None = None
    stock: str | None = None
    artworks: tuple[str, ...] = ()
    elsewhere: bool = False

    @property
    def name(self) -> str:
        """The label's name, else its artworks'."""
        return self.label.name if self.label else " and ".join(self.artworks)

    def applied(self, call: PrintCall) -> PrintCall:
        """The call with the label's stock and artwork where it says none."""
        return replace(call, stock=call.stock or self.stock, artworks=call.artworks or self.artworks)


def chosen_pack(formula: Formula, name: str | None) -> Pack:
    """The pack of a name, or the only one. Raises InputError with the names there are."""
    names = pack_names(formula)
    if name is None:
        if len(names) == 1:
            return sizes(formula)[0]
        raise input_error("call.pack", f"{formula.product.name} has several packs, and none is named",
                          limit=", ".join(names), do=f"--pack {names[0]}")
    found = find_pack(formula, name)
    if found is None or not formula.packs:
        has = f"the packs {', '.join(names)}" if formula.packs else "no packs"
        raise input_error("call.pack", f"there is no pack {name[:40]!r}: {formula.product.name} has {has}",
                          do=_nearest(name, names) or "leave --pack out, or write a [[pack]] into the formula")
    return found


def _nearest(word: str, names: Sequence[str]) -> str | None:
    near = difflib.get_close_matches(word, [item for item in names if item], 2, 0.4)
    return f"did you mean {' or '.join(near)}?" if near else None


def aims_of(inputs: Inputs, pack: Pack, call: PrintCall, folder: Path | None) -> tuple[Aim, ...]:
    """One aim for each label of the pack that the call means; one without a label where the call or nobody names it."""
    if not pack.labels or (call.artworks and not call.labels):
        if call.labels:
            raise input_error("call.label", f"the pack {pack.name or 'of this formula'} has no labels of its own",
                              do="leave --label out, or write labels = [ … ] into its [[pack]]")
        return (Aim(view(inputs, pack, None, call), pack),)
    if call.labels and not call.artworks:
        _known(call.labels, pack)
    elif call.labels and len(call.labels) > 1:
        raise input_error("call.label", "--artwork stands in for the artwork of one label", do="name one --label")
    named = {name.casefold() for name in call.labels}
    meant = [item for item in pack.labels if not named or item.name.casefold() in named]
    served = [item for item in meant if named or _serves(item, call)]
    if not served:
        raise input_error("call.label", f"no label of the pack {pack.name} is for {_readers(call)}",
                          limit=", ".join(item.name for item in pack.labels), do="name one with --label")
    return tuple(_aim(inputs, pack, item, call, folder) for item in served)


def set_of(inputs: Inputs, pack: Pack, call: PrintCall, folder: Path | None) -> tuple[Aim, ...]:
    """The aims of all labels of the pack that the call's readers get, whichever of them are printed."""
    return aims_of(inputs, pack, replace(call, labels=(), artworks=()), folder)


def _known(names: Sequence[str], pack: Pack) -> None:
    there = [item.name for item in pack.labels]
    wrong = [name for name in names if name.casefold() not in {item.casefold() for item in there}]
    if wrong:
        raise InputError([Finding("call.label", "error", f"the pack {pack.name} has no label {name[:40]!r}",
                                  limit=", ".join(there), do=_nearest(name, there)) for name in wrong])


def _serves(label: PackLabel, call: PrintCall) -> bool:
    """Whether a label is for the readers that the call names."""
    return _meets(label.markets, call.markets) and _meets(label.languages, call.languages)


def _meets(own: Collection[str] | None, asked: Collection[str]) -> bool:
    return not own or not asked or bool(set(own) & set(asked))


def _readers(call: PrintCall) -> str:
    return ", ".join((*call.markets, *call.languages))


def _aim(inputs: Inputs, pack: Pack, label: PackLabel, call: PrintCall, folder: Path | None) -> Aim:
    return Aim(view(inputs, pack, label, call), pack, label, label.stock, _artworks(inputs, label, folder),
               label.on == "container" and _on_the_outer_alone(inputs, pack, label, folder))


def _artworks(inputs: Inputs, label: PackLabel, folder: Path | None) -> tuple[str, ...]:
    """The artwork the label names, else the one of its own name, else that of [print], else the usual one."""
    own = label.artwork or (label.name if label.name in artwork_names(folder) else None)
    return (own,) if own else inputs.workshop.print.artwork[:1] or (USUAL[label.on],)


def _on_the_outer_alone(inputs: Inputs, pack: Pack, label: PackLabel, folder: Path | None) -> bool:
    """Whether the outer carries the list or the precautions, and no label beside this one does."""
    def blocks(on: str) -> frozenset[str]:
        names = [name for item in pack.labels if item.on == on and _meets(item.markets, label.markets or ())
                 for name in _artworks(inputs, item, folder)]
        return carried(find_artworks(list(dict.fromkeys(names)), folder)) if names else frozenset()

    return bool({LISTED, CAUTIONED} & (blocks("outer") - blocks("container")))


def markets_typed(text: str | None) -> tuple[Market, ...]:
    """The markets of an option: "UK,EU". Raises InputError for one that is none."""
    words = [word.strip() for word in text.split(",")] if text else []
    found = tuple(market for market in MARKETS if market in words)
    wrong = [word for word in words if word not in MARKETS]
    if wrong:
        raise input_error("call.markets", f"{wrong[0][:20]!r} is no market", limit=", ".join(MARKETS))
    return found


def languages_typed(text: str | None) -> tuple[str, ...]:
    """The languages of an option: "de,fr". Raises InputError for one that labels do not know."""
    words = tuple(dict.fromkeys(word.strip() for word in text.split(","))) if text else ()
    wrong = [word for word in words if word not in LANGUAGES]
    if wrong:
        raise input_error("call.languages", f"{wrong[0][:20]!r} is no language that labels know",
                          limit="two letters of ISO 639-1: de, fr, nl")
    return words


def view(inputs: Inputs, pack: Pack, label: PackLabel | None, call: PrintCall) -> Inputs:
    """The inputs as they read for one label: its pack's content and container, its own markets and languages."""
    formula = of_pack(inputs.formula, pack)
    if label is not None and label.on == "outer":
        formula = replace(formula, container=pack.outer)
    markets = _both(label.markets if label else None, call.markets)
    if markets:
        formula = replace(formula, product=replace(formula.product, markets=markets))
    languages = _both(label.languages if label else None, call.languages)
    workshop = replace(inputs.workshop, languages=languages) if languages else inputs.workshop
    if formula is inputs.formula and workshop is inputs.workshop:
        return inputs
    return replace(inputs, formula=formula, workshop=workshop)


def _both(own: tuple[T, ...] | None, asked: tuple[T, ...]) -> tuple[T, ...]:
    """What the label says, as far as the call asks for it; the call's where they have nothing in common."""
    if own and asked:
        return tuple(item for item in own if item in asked) or asked
    return own or asked
