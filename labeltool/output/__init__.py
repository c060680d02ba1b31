"""Frames written as PDF and PNG."""
