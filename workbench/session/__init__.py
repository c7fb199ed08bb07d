"""The session file: read, held to its format, edited in place, saved."""
