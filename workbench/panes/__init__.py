"""The panes: pure functions from the plan to rows of text, and the one widget that shows them."""
