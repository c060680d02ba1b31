"""Batch record pages: what they say, how they look, a folder of them for a web host, and a small server."""
