"""What merging could not do."""


class UnmergeableError(ValueError):
    """No one text says what all sides say; both are to be kept. Carries the path and why, for a person."""

    def __init__(self, path: str, why: str) -> None:
        self.path = path
        self.why = why
        super().__init__(f"{path}: {why}")


class SettleError(LookupError):
    """There is no such question, or no such wording; the message says so for a person."""
