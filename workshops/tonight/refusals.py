"""What the slice refuses, each with a sentence that says what to do."""


class TonightRefused(ValueError):
    """An ask, a tap or a calling off that cannot be as asked."""
