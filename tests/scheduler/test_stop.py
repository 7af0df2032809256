from scheduler.stop import WHOLE_SHARE, AfterEffort, AfterSeconds, AnyOf, WhenCancelled


def test_effort_is_spent_unit_by_unit() -> None:
    stop = AfterEffort(4)
    shares = []
    for _ in range(4):
        assert stop.reason() is None
        shares.append(stop.share())
        stop.spend(1)

    assert shares == [0, 250, 500, 750]
    assert (stop.reason(), stop.share()) == ("effort", WHOLE_SHARE)
    assert AfterEffort(0).reason() == "effort"


def test_time_is_told_by_the_clock_that_is_given() -> None:
    now = [10.0]
    stop = AfterSeconds(4, lambda: now[0])
    stop.spend(1000)

    assert (stop.share(), stop.reason()) == (0, None)
    now[0] = 13.0
    assert (stop.share(), stop.reason()) == (750, None)
    now[0] = 14.0
    assert (stop.share(), stop.reason()) == (WHOLE_SHARE, "time")


def test_any_of_several_stops_and_says_which() -> None:
    cancelled = [False]
    stop = AnyOf(AfterEffort(4), WhenCancelled(lambda: cancelled[0]))
    stop.spend(1)

    assert (stop.share(), stop.reason()) == (250, None)
    cancelled[0] = True
    assert (stop.share(), stop.reason()) == (WHOLE_SHARE, "cancelled")
