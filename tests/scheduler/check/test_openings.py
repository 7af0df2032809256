"""Stretches of quarters against the plain sets of quarters that they stand for."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from scheduler.check.openings import Openings, Pairs, common, less, union

END = 40


@st.composite
def stretches(draw: st.DrawFn) -> Pairs:
    """Draw sorted stretches that may touch, as the hours of a person may."""
    edges = sorted(draw(st.sets(st.integers(0, END), max_size=14)))
    pairs = pairwise(edges)
    return tuple(pair for pair in pairs if draw(st.booleans()))


def quarters(pairs: Pairs) -> set[int]:
    return {quarter for start, end in pairs for quarter in range(start, end)}


def is_in_order(pairs: Pairs) -> bool:
    return all(a < b for a, b in pairs) and all(
        one[1] <= other[0] for one, other in pairwise(pairs)
    )


@given(stretches(), stretches())
def test_what_two_have_in_common_and_what_one_has_more(one: Pairs, other: Pairs) -> None:
    assert quarters(common(one, other)) == quarters(one) & quarters(other)
    assert quarters(less(one, other)) == quarters(one) - quarters(other)
    assert is_in_order(common(one, other))
    assert is_in_order(less(one, other))


def test_two_of_which_one_is_over_before_the_other_begins_have_nothing_in_common() -> None:
    early, late = ((1, 2),), ((5, 6),)

    assert common(late, early) == common(early, late) == ()
    assert (less(late, early), less(early, late)) == (late, early)


@given(st.lists(stretches(), max_size=4))
def test_what_lies_in_any_of_some(some: list[Pairs]) -> None:
    found = union(pair for pairs in some for pair in pairs)

    assert quarters(found) == {one for pairs in some for one in quarters(pairs)}
    assert is_in_order(found)
    assert all(one[1] < other[0] for one, other in pairwise(found))


@given(stretches(), st.integers(0, END), st.integers(0, END))
def test_what_is_open_and_what_is_shut_of_a_span(pairs: Pairs, start: int, end: int) -> None:
    openings, inside = Openings(pairs), set(range(start, end))

    assert quarters(tuple(openings.within(start, end))) == quarters(pairs) & inside
    assert quarters(tuple(openings.gaps(start, end))) == inside - quarters(pairs)
    assert openings.between(start, end) == len(quarters(pairs) & inside)
    assert all(a < b for a, b in (*openings.within(start, end), *openings.gaps(start, end)))


@given(stretches(), st.integers(0, END))
def test_the_stretch_that_holds_a_quarter(pairs: Pairs, quarter: int) -> None:
    holding = [pair for pair in pairs if pair[0] <= quarter < pair[1]]

    assert Openings(pairs).at(quarter) == (holding[0] if holding else None)
