"""`derive` turns a session into the Plan: each figure with its range, its reason and its warnings."""
