"""A small valid workshop that uses every key, for tests to read and to break."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from labeltool.finding import Findings
from labeltool.formula.load import Loaded, load

WORKSHOP = """\
format = 1

[maker]
name    = "Ottersholt Bodycare"
brand   = "Ottersholt"
address = ["3 Example Yard", "Ottersholt", "EX0 0EX"]
country = "GB"
contact = "care@ottersholt.example"

[responsible-person]
EU = { name = "Ottersholt Continental", address = ["1 Sample Quay", "Exampleport"] }
US = { name = "Ottersholt Overseas", address = ["2 Sample Road"], role = "distributed by" }

[sale]
markets = ["UK", "EU"]
languages = ["en", "fr"]
e-mark = true

[print]
stock   = "a4-3x8-63.5x33.9"
artwork = ["front", "back"]
printer = "office"

[batch]
code = "%y%m%d{seq}{check}"
require-release = true
tolerance = "1,5 %"
balance = "0.1g"

[record]
link = "https://ottersholt.example/B/{code}"
gtin-link = "https://id.ottersholt.example"
gtin-dates = ["15"]
by = "AB"

[words.fr]
batch = "N° de lot"
external-use = "Usage externe."
"""

MATERIALS = """\
[water]
name = "Water, purified here"
inci = "Aqua"
lots = false
names = { US = "Water" }

[rosemary-extract]
name = "Rosemary extract in sunflower oil"
made-of = [
  { inci = "Helianthus Annuus Seed Oil",          percent = [70, 90] },  # as the supplier states it
  { inci = "Rosmarinus Officinalis Leaf Extract", percent = ["10", "30,0 %"], purpose = "antioxidant" },
]
source = "supplier's composition sheet, 2026-02"
was = ["rosemary-oil"]

[cedar-oil]
name = "Cedarwood essential oil"
inci = "Cedrus Atlantica Wood Oil"
fragrance = true
allergens = { Limonene = 0.4, Linalool = [0.1, 0.3] }

[red-iron-oxide]
name = "Iron oxide, red"
inci = "CI 77491"
colorant = ["US"]
nano = true

[citric-solution]
name = "Citric acid solution of our own"
formula = "citric-solution"

[lye-soap]
name = "Soap base of our own"
made-of = [
  { inci = "Olea Europaea Fruit Oil", percent = 75 },
  { inci = "Aqua", percent = 15 }, { inci = "Sodium Hydroxide", percent = 10 },
]
as-made = [
  { inci = "Sodium Olivate", percent = 77 },
  { inci = "Aqua", percent = 15 }, { inci = "Glycerin", percent = 8 },
]
"""

FORMULA = """\
[product]
name       = "Oat Milk Hand Lotion"
version    = "1"
code       = "OML"
function   = "Hand lotion"
use        = "leave-on"
body-area  = ["hands"]
form       = "cream"
users      = ["adults"]
professional = false
net        = "50 ml"
directions = "Apply to clean, dry hands."
warnings   = ["Keep it cool."]
shelf-life = "18 months"
period-after-opening = "6 months"
no-opening-period = "single use"
ph         = [5.0, 5.6]
gtin       = "9521234567899"
claims     = ["soft"]
markets    = ["UK"]

[product.text.fr]
name = "Lait d'avoine"
function = "Lait pour les mains"
directions = "Appliquer sur des mains propres."
warnings = ["Conserver au frais."]

[container]
shape = "cylinder"
diameter = 40
height = 95

[[ingredient]]
material = "water"
percent  = "qs"
phase    = "A"

[[ingredient]]
material = "rosemary-oil"
percent  = 6
tolerance = "1 %"
purpose = "antioxidant"

[[ingredient]]
inci = "Glycerin"
percent = "5,5 %"

[[ingredient]]
material = "citric-solution"
percent  = "to pH"
up-to    = 0.3

[[may-contain]]
inci = "CI 77492"
"""

CITRIC = """\
[product]
name = "Citric acid solution"

[[ingredient]]
material = "water"
grams = 2

[[ingredient]]
inci = "Citric Acid"
grams = 1
"""

VALID: dict[str, str | bytes] = {
    "workshop.toml": WORKSHOP,
    "materials.toml": MATERIALS,
    "formulas/lotion.toml": FORMULA,
    "formulas/citric-solution.toml": CITRIC,
}


def write(folder: Path, files: Mapping[str, str | bytes | None]) -> Path:
    """The valid workshop with `files` in place of its own (None: left out), written to `folder`."""
    for name, content in {**VALID, **files}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if content is not None:
            path.write_bytes(content.encode() if isinstance(content, str) else content)
    return folder


def read(folder: Path, path: str = "formulas/lotion.toml", /, **options: str) -> tuple[Loaded | None, Findings]:
    """The formula of a workshop folder, read from that folder as the current one."""
    facts = {key.replace("_", "-"): text for key, text in options.items()}
    return load(Path(path), env={}, cwd=folder, product_options=facts)


def rules(findings: Findings, level: str = "error") -> list[str]:
    """The rule names of one level, in order."""
    return [item.rule for item in findings.items if item.level == level]


def line_of(text: str, part: str) -> int:
    """The line of a text on which `part` first stands."""
    return text[: text.index(part)].count("\n") + 1
