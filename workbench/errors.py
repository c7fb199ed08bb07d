"""The errors that a brewer may see: each says in one sentence what is wrong and what would be right."""

__all__ = [
    "EditRefused",
    "FileRefused",
    "NotLasting",
    "NothingKept",
    "NothingPlanned",
    "QuantityError",
    "SaveFailed",
    "UnderdeterminedWort",
    "WorkbenchError",
    "WortError",
    "WortImpossible",
]


class WorkbenchError(Exception):
    """Base of every error that is the input's fault, not the program's."""


class QuantityError(WorkbenchError):
    """A text that is no quantity of the kind asked for.

    `what` says what is wrong, `right` what would be right; together they make the message.
    """

    def __init__(self, what: str, right: str) -> None:
        super().__init__(f"{what}: {right}")
        self.what = what
        self.right = right


class WortError(WorkbenchError):
    """A wort that cannot be worked out from what was given."""


class WortImpossible(WortError):
    """The figures given contradict each other or nature: more extract than powder, less water than none."""


class UnderdeterminedWort(WortError):
    """Too few or too many figures given for a single answer."""


class FileRefused(WorkbenchError):
    """A file that is not read at all: not regular, too large, not text, not TOML."""


class EditRefused(WorkbenchError):
    """An edit that would put a fault into the session; the session stays as it was."""


class SaveFailed(WorkbenchError):
    """The file could not be written; what was typed is kept in memory and tried again."""


class NotLasting(SaveFailed):
    """The new version has the file's name, but the disk does not say that a power cut would leave it there."""


class NothingKept(WorkbenchError):
    """A batch of which nothing is kept, or not known how much, so that no other can be grown from it."""


class NothingPlanned(WorkbenchError):
    """A plan in which nothing is left to be done at an hour."""
