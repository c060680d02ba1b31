"""From words, artwork and a label's size to a Frame: measuring, breaking lines, fitting, placing."""
