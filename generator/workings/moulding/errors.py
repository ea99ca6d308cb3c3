"""What cannot be worked out, said so that the figure at fault is plain."""

from __future__ import annotations


class UnworkableError(ValueError):
    """Figures that no answer follows from; ``str()`` is one sentence for the user."""
