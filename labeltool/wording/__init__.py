"""The words of a label, by block and language, and the smallest height each may be printed in."""
