"""What a mishap calls for: which kinds of stages are done again, and what comes before them."""

from shared.repairs.causes import Again, Cause, First, Repair, repair_of

__all__ = ["Again", "Cause", "First", "Repair", "repair_of"]
