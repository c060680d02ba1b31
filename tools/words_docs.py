"""Write docs/languages.md from the table of label words: each by language, how sure it is, and where it comes from.

Usage: python tools/words_docs.py
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "languages.md"
Row = Mapping[str, Any]

HEAD = """# Label words by language

A label speaks the languages of `[sale] languages` in workshop.toml, one after another; the product's own words
stand under `[product.text.LANG]` of its formula. This page is generated from `labeltool/data/words.toml` (`make
docs` writes it again).

- The **list of ingredients** is the same in every language of the EU, under the one word *Ingredients*; Canada
  reads *Ingredients / Ingrédients*.
- **Warnings of law** are printed in a language only where the act's own words in it were read ([rules.md](rules.md)
  lists them). Others are proposed: write them into the warnings of `[product.text.LANG]` once you have them from
  the law's text. `check` names each text that a language of the label lacks.
- **Headings** are printed from the table; those from memory with a note, for a native reader to look at.
- **General cautions** (marked *caution* below; no law asks for them) are printed only where they are settled.
  Others are left out with a note.
- **Best before** stands in words on a label in English alone. Others have the hourglass, which needs no words,
  unless you write your own.
- The **country of origin** of an import stands in every language of the label, in English too for the US.
- **Figures** of the net quantity have a decimal comma where the label speaks no English, and are metric everywhere;
  the US reads ounces beside them. Months and years are written 10/2027, days as each language writes them.
- The face has all letters of Latin, Greek and Cyrillic languages. A sign that it lacks is refused with its place,
  never left out.

## Your own words

workshop.toml takes your words in the place of the table's, in any language, and takes them as settled:

```toml
[words.de]
batch           = "Ch.-B."
external-use    = "Nur zur äußerlichen Anwendung."
best-before-end = "Mindestens haltbar bis Ende"
```

The keys are those below; the words that law fixes are not among them. A batch keeps the words it was opened with.

## The table

How sure a word is: **law**: read in the act, or quoted from it. **national**: read in a national law that the
Regulation has replaced, so only a proposal. **practice**: what the trade writes. **memory**: written from memory,
not checked by anybody.
"""
CAUTIONS = ("external-use", "avoid-eyes", "rinse-eyes", "irritation", "children", "professional")


def page() -> str:
    """The text of docs/languages.md."""
    from labeltool import tables
    from labeltool.formula.schema import WORDS, keys_of

    rows: list[Row] = tables.toml("data", "words")["word"]
    own = keys_of("workshop.toml", WORDS)
    keys = dict.fromkeys((*own, *(row["key"] for row in rows)))
    parts = [HEAD]
    for key in keys:
        kind = "caution" if key in CAUTIONS else "your own words count" if key in own else "fixed"
        parts += [f"\n### {key} ({kind})\n", "| language | words | how sure | source |", "| --- | --- | --- | --- |"]
        parts += _lines([row for row in rows if row["key"] == key])
    return "\n".join(parts) + "\n"


def _lines(rows: list[Row]) -> Iterator[str]:
    for row in sorted(rows, key=lambda row: (row["lang"] != "en", row["lang"])):
        sure = "national" if row.get("read_as") == "national" else row["confidence"]
        yield f"| {row['lang']} | {row['text']} | {sure} | {row['source']} |"


def main() -> None:
    """Write the page."""
    PAGE.write_text(page(), encoding="utf-8")
    print(f"{PAGE.relative_to(ROOT)}: {PAGE.stat().st_size:,} bytes")


if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
    main()
