"""What may not share the air, in the model: where it alone decides, and where it alone forbids."""

from dataclasses import replace
from typing import Any, ClassVar

from scheduler.problem import Edge, Room, Stage, Use, Wait
from tests.scheduler.makespans import least, stage, way


class TestAir:
    @staticmethod
    def _pair(**said: Any) -> tuple[Stage, Stage]:
        spray = Use(room=0, units=1, against=(1,), **said)
        cure = Wait(least=5) if said.get("through_cure") else Wait()
        return (
            stage(4, uses=(spray,), cure=cure),
            stage(3, uses=(Use(room=1, units=1, against=(0,)),)),
        )

    AIR: ClassVar[dict[str, Any]] = {"rooms": (Room(capacity=9), Room(capacity=9))}

    def test_what_must_not_share_the_air_comes_one_after_the_other(self) -> None:
        spray, weld = self._pair()
        assert least(spray, weld, **self.AIR) == 7
        assert least(spray, spray, weld, weld, **self.AIR) == 7
        pinned = (replace(spray, fixed_start=2), replace(weld, start_by=5))
        assert least(*pinned, **self.AIR) is None
        assert least(pinned[0], replace(weld, start_by=6), **self.AIR) == 9

    def test_cure_and_clear_out_count(self) -> None:
        spray, weld = self._pair(through_cure=True, after=2)
        first = replace(spray, start_by=0)
        assert least(first, weld, **self.AIR) == 14
        plain, _ = self._pair(after=2)
        assert least(replace(plain, start_by=0), weld, **self.AIR) == 9
        edges = (Edge(before=0, after=1),)
        assert least(plain, weld, edges=edges, **self.AIR) == 9
        assert least(self._pair()[0], weld, edges=edges, **self.AIR) == 7
        assert least(plain, replace(weld, start_by=5), edges=edges, **self.AIR) is None

    def test_a_stage_shares_the_air_with_itself_and_with_what_takes_no_time(self) -> None:
        both = (Use(room=0, units=1, against=(1,)), Use(room=1, units=1, against=(0,)))
        assert least(stage(4, uses=both), stage(4, uses=both), **self.AIR) == 8
        spray, weld = self._pair()
        brief = stage(0, uses=weld.ways[0].uses, fixed_start=2)
        assert least(replace(spray, fixed_start=0), brief, **self.AIR) == 4

    def test_what_is_booked_counts_too(self) -> None:
        spray, _ = self._pair()
        booked = (Room(capacity=9), Room(capacity=9, busy=((3, 6, 1), (4, 8, 1))))
        assert least(spray, rooms=booked) == 12

    def test_only_the_way_that_is_taken_counts(self) -> None:
        spray, weld = self._pair()
        either = Stage(ways=(*spray.ways, way(6)))
        assert least(replace(weld, fixed_start=1), either, **self.AIR) == 6
