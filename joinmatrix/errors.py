"""What can be wrong with the input or the call as a whole; findings are for all the rest."""

from dataclasses import dataclass


class JoinMatrixError(Exception):
    """Base of every error that joinmatrix raises on purpose; the command line exits 2."""


# Not frozen: Python sets the traceback of an error as it passes through a context manager.
@dataclass(eq=False)
class InputError(JoinMatrixError):
    """A file or folder that cannot be used at all.

    where   file, sheet or cell, as text
    found   what is there
    remedy  what to do about it
    """

    where: str
    found: str
    remedy: str = ""

    def __str__(self) -> str:
        sentence = f"{self.where}: {self.found}" if self.where else self.found
        return _sentences(sentence, self.remedy)


@dataclass(eq=False)
class CallError(JoinMatrixError):
    """A call that cannot be answered: an unknown stage, several units and no choice of one.

    found   what was asked
    wanted  what can be asked
    """

    found: str
    wanted: str = ""

    def __str__(self) -> str:
        return _sentences(self.found, self.wanted)


def _sentences(*clauses: str) -> str:
    """Clauses as sentences; only a remedy that opens with a word of its own gets a capital."""
    first, *others = [clause for clause in clauses if clause]
    return " ".join([f"{first}.", *(f"{each[0].upper()}{each[1:]}." for each in others)])
