"""Label texts and stocks to set in tests and previews: an invented workshop's."""

from __future__ import annotations

from labeltool.stock.model import Stock
from labeltool.wording.model import Block, LabelText, Minimum, QrContent

SMALL = Minimum(0.9, "x", "floor for small packages", borrowed=True)
PLAIN = Minimum(1.2, "x", "floor", borrowed=True)
SIXTEENTH = Minimum(25.4 / 16, "x", "1/16 inch")
FIGURES_3 = Minimum(3.0, "figure", "net quantity, 50 to 200 g or ml")
FIGURES_2 = Minimum(2.0, "figure", "net quantity, up to 50 g or ml")

NAMES = (
    "Aqua", "Avena Sativa Kernel Oil", "Glycerin", "Cetearyl Alcohol", "Caprylic/Capric Triglyceride",
    "Butyrospermum Parkii Butter", "Glyceryl Stearate Citrate", "Helianthus Annuus Seed Oil",
    "Sodium Stearoyl Glutamate", "Phenoxyethanol", "Xanthan Gum", "Ethylhexylglycerin", "Avena Sativa Kernel Flour",
    "Parfum", "Panthenol", "Allantoin", "Tocopherol", "Citric Acid", "Sodium Hydroxide",
    "Rosmarinus Officinalis Leaf Extract", "1,2-Hexanediol", "Limonene", "Linalool", "Citral", "Geraniol",
    "Citronellol", "Coumarin", "Benzyl Salicylate", "Hexyl Cinnamal", "Alpha-Isomethyl Ionone", "Eugenol",
    "Benzyl Alcohol", "Farnesol", "Isoeugenol", "Hydroxycitronellal", "Amyl Cinnamal", "Sodium Benzoate",
    "Potassium Sorbate", "CI 77491", "CI 77492",
)


def stock(width: float, height: float, *, shape: str = "rectangle", safe: float = 1.5, dpi: int = 600,
          medium: str = "laser", corner: float = 1.5) -> Stock:
    name = f"{shape}-{width:g}x{height:g}-{dpi}"
    return Stock(name, name, "sheet", (210, 297), (width, height), shape, corner if shape == "rectangle" else 0, 1, 1,
                 (5, 5), (width, height), 0, safe, "white", medium, dpi)


def roll(width: float, height: float, dpi: int = 203, medium: str = "thermal-transfer",
         shape: str = "rectangle") -> Stock:
    return stock(width, height, shape=shape, dpi=dpi, medium=medium)


def lotion(names: int = 26, least: Minimum = SMALL) -> LabelText:
    return _text("Oat Milk Hand Lotion", "260503A31", (
        Block("brand", "Ottersholt", minimums=(least,)),
        Block("name", "Oat Milk Hand Lotion", minimums=(least,)),
        Block("function", "Hand lotion", minimums=(least,)),
        Block("net", "50 ml", minimums=(FIGURES_2,)),
        Block("directions", "Apply to clean, dry hands as often as needed.", "Directions:", minimums=(least,)),
        Block("warnings", "For external use only. Avoid contact with the eyes; if it gets into them, rinse well with "
              "water. Stop using it if your skin becomes irritated. Keep out of reach of children.", "Caution:",
              minimums=(least,)),
        Block("ingredients", ", ".join(NAMES[:names]) + ".", "Ingredients:", minimums=(least,)),
        Block("code", "260503\u2009A\u200931", "Batch", minimums=(least,)),
        Block("date", "10/2027", "Best used before the end of", minimums=(least,)),
        Block("responsible", "Ottersholt Bodycare\n3 Example Yard\nOttersholt\nEX0 0EX", minimums=(least,)),
        Block("contact", "care@ottersholt.example", minimums=(least,)),
    ))


def balm(least: Minimum = SMALL) -> LabelText:
    return _text("Tinted Lip Balm", "260611B07", (
        Block("brand", "OTTERSHOLT", minimums=(least,)),
        Block("name", "Tinted Lip Balm", minimums=(least,)),
        Block("function", "Lip balm", minimums=(least,)),
        Block("net", "5 ml", minimums=(FIGURES_2,)),
        Block("ingredients", "Ricinus Communis Seed Oil, Cera Alba, Butyrospermum Parkii Butter, Tocopherol, "
              "Helianthus Annuus Seed Oil [+/- Mica, CI 77491, CI 77492].", "Ingredients:", minimums=(least,)),
        Block("code", "260611\u2009B\u200907", "Batch", minimums=(least,)),
        Block("opening", "12M", symbol="open-jar", minimums=(least,)),
        Block("responsible", "Ottersholt Bodycare\n3 Example Yard\nOttersholt\nEX0 0EX", minimums=(least,)),
    ))


def three_markets(least: Minimum = SIXTEENTH) -> LabelText:
    listed = ", ".join(NAMES[:40]).replace("Aqua", "Aqua (Water)").replace("Parfum", "Parfum (Fragrance)")
    return _text("Cedar Night Serum", "260503A31", (
        Block("brand", "Ottersholt", minimums=(least,)),
        Block("name", "Cedar Night Serum", minimums=(least,)),
        Block("function", "Face serum", minimums=(least,)),
        Block("net", "250 ml / 8.45 fl. oz.",
              minimums=(Minimum(4.0, "figure", "over 200"), Minimum(3.175, "x", "1/8 in"))),
        Block("directions", "Apply two pumps to clean, dry skin in the evening.", "Directions:", minimums=(least,)),
        Block("directions", "Appliquer deux pressions le soir sur une peau propre et sèche.", "Mode d’emploi :",
              minimums=(least,), lang="fr"),
        Block("warnings", "For external use only. Avoid contact with the eyes. Keep out of reach of children.",
              "Caution:", minimums=(least,)),
        Block("warnings", "Usage externe uniquement. Éviter le contact avec les yeux. "
              "Tenir hors de portée des enfants.", "Attention :", minimums=(least,), lang="fr"),
        Block("ingredients", listed + ".", "Ingredients / Ingrédients:", minimums=(least,)),
        Block("code", "260503\u2009A\u200931", "Lot", minimums=(least,)),
        Block("date", "10/2027", symbol="hourglass", minimums=(least,)),
        Block("opening", "6M", symbol="open-jar", minimums=(least,)),
        Block("responsible", "Ottersholt Bodycare\n3 Example Yard\nOttersholt\nEX0 0EX\nUnited Kingdom",
              minimums=(least,)),
        Block("responsible", "Otterholt Vertrieb GmbH\nBeispielweg 5\n00000 Musterstadt", "EU:", minimums=(least,)),
        Block("origin", "Made in the United Kingdom", minimums=(least,)),
        Block("contact", "care@ottersholt.example", minimums=(least,)),
        Block("e-mark", "", symbol="e-mark", minimums=(Minimum(3.0, "figure", "3 mm"),)),
    ))


def _text(name: str, code: str, blocks: tuple[Block, ...]) -> LabelText:
    link = f"HTTPS://OTTERSHOLT.EXAMPLE/B/{code}"
    return LabelText(name, code, blocks, QrContent(link), ("UK",))
