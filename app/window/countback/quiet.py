"""A drawn part in which something can be chosen from another part, without its being read out."""

from app.window.spots.drawn import Drawn


class Quiet(Drawn):
    """Two parts show the same step; only the one under the hand tells of it."""

    def reveal(self, identity: str) -> None:
        """Choose a spot and bring it into sight."""
        self.at = identity
        spot, area = self.spot(identity), self._area()
        if spot is not None and area is not None:
            area.ensureVisible(spot.rect.center().x(), spot.rect.center().y(), 40, 40)
        self.update()
