"""Labels and batch codes for small-batch skin care."""

__version__ = "0.1.0"
