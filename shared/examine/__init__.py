"""What a book means: does it hold together? All that doesn't is found at once."""

from shared.examine.examine import examine
from shared.examine.taking import take_in

__all__ = ["examine", "take_in"]
