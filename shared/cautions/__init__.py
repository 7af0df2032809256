"""Cautions: what a step calls for besides the work itself, with the name of the source."""

from shared.cautions.cautions import Caution, caution_ids, cautions_of

__all__ = ["Caution", "caution_ids", "cautions_of"]
