"""A terminal workbench for growing enough live yeast by brew day."""

__version__ = "0.1.0"
