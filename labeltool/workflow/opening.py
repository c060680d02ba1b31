"""What the record freezes when a batch opens."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from labeltool.coding.pattern import Pattern
from labeltool.coding.shape import code_key
from labeltool.records.model import Once, Opening
from labeltool.workflow.inputs import Inputs, frozen
from labeltool.workflow.setting import Setting


def opening_of(inputs: Inputs, pattern: Pattern, code: str, key: str, made: dt.date, size_g: Decimal | None,
               setting: Setting, once: Once | None = None) -> Opening:
    """The opening of one batch: code, dates, and everything the maker wrote."""
    product = inputs.formula.product
    return Opening(
        code=code, code_key=code_key(code), stem=pattern.stem(made, product.code), made=made, product=product.name,
        formula_key=inputs.formula.key, version=product.version, size_g=size_g, key=key, frozen=frozen(inputs),
        by=setting.by or inputs.workshop.record.by, at=setting.now(), once=once,
    )
