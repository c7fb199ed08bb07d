"""The trade's science: pure functions of plain numbers, one module a subject."""
