"""Why a formula or an expression can't be taken, and where."""

from dataclasses import dataclass


@dataclass
class Refusal(Exception):
    """
    Something outside what can be compiled, or a value of the wrong kind.

    line and column count from 1 within the text that was given; `width` is how many characters
    are meant; `code` is one of the codes of `builder.load.problems`.
    """

    line: int
    column: int
    code: str
    text: str
    advice: str = ""
    width: int = 1

    def __str__(self) -> str:
        return f"{self.line}:{self.column}: {self.text}"


class Refused(Exception):
    """A text that was refused, with every reason found in one go."""

    def __init__(self, refusals: list[Refusal]):
        self.refusals = sorted(refusals, key=lambda refusal: (refusal.line, refusal.column, refusal.text))
        super().__init__("\n".join(str(refusal) for refusal in self.refusals))
