"""Sample words to try stocks and artworks with, of an invented product."""

from __future__ import annotations

from labeltool.wording.model import Block, LabelText, QrContent

LIST = (
    "Aqua, Glycerin, Helianthus Annuus Seed Oil, Cetearyl Alcohol, Avena Sativa Kernel Extract, Glyceryl Stearate, "
    "Phenoxyethanol, Parfum, Xanthan Gum, Tocopherol, Ethylhexylglycerin, Citric Acid, Limonene"
)


def sample_text() -> LabelText:
    """The words of a short, plain label."""
    blocks = (
        Block("brand", "Ottersholt"),
        Block("name", "Oat Milk Hand Lotion"),
        Block("function", "Hand lotion"),
        Block("net", "50 ml"),
        Block("directions", "Apply to clean, dry hands.", heading="Directions:"),
        Block("warnings", "For external use only. Avoid contact with the eyes.", heading="Caution:"),
        Block("ingredients", LIST, heading="Ingredients:"),
        Block("code", "260503\u2009A\u200931", heading="Batch"),
        Block("date", "10/2027", heading="Best used before the end of"),
        Block("opening", "6M", symbol="open-jar"),
        Block("responsible", "Ottersholt Bodycare\n3 Example Yard\nOttersholt\nEX0 0EX"),
        Block("contact", "care@ottersholt.example"),
    )
    return LabelText("Oat Milk Hand Lotion", "260503A31", blocks, QrContent("260503A31"), ("UK",))
