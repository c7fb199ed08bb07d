"""Quantities with units: from what a brewer types to base units, and back to text."""
