"""Three-point figures against published worked examples."""

from decimal import Decimal
from fractions import Fraction
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.estimate import three_point_mean, three_point_sd, three_point_variance

# D. Anderson, D. Sweeney, T. Williams, M. Wisniewski, An Introduction to Management Science:
# Quantitative Approaches to Decision Making, Cengage 2014, chapter 9, table 9.4 p. 384 and
# table 9.6 p. 387: weeks; expected durations from the printed early start and finish.
WEEKS = {
    "A": ("4", "5", "12", 6),
    "B": ("1", "1.5", "5", 2),
    "C": ("2", "3", "4", 3),
    "D": ("3", "4", "11", 5),
    "E": ("2", "3", "4", 3),
    "F": ("1.5", "2", "2.5", 2),
    "G": ("1.5", "3", "4.5", 3),
    "H": ("2.5", "3.5", "7.5", 4),
    "I": ("1.5", "2", "2.5", 2),
    "J": ("1", "2", "3", 2),
}
CRITICAL_WEEKS = "AEHIJ"

# A. Kucharski, critpath: Setting the Critical Path in Project Management, R package 0.2.2
# (2024), vignette "CPM and PERT", table 2 and printed results.
NINE = [
    ((3, 5, 7), "5.0", "0.4444444"),
    ((5, 7, 9), "7.0", "0.4444444"),
    ((5, 5, 8), "5.5", "0.2500000"),
    ((1, 6, 8), "5.5", "1.3611111"),
    ((6, 8, 10), "8.0", "0.4444444"),
    ((2, 6, 7), "5.5", "0.6944444"),
    ((5, 6, 7), "6.0", "0.1111111"),
    ((3, 5, 7), "5.0", "0.4444444"),
    ((4, 6, 8), "6.0", "0.4444444"),
]

# B.W. Taylor III, Introduction to Management Science, chapter 8, solved problem: activities
# 1-3-5-7 decide, 24 weeks.
DECIDING = [(5, 8, 17), (3, 5, 7), (4, 6, 8), (3, 4, 5)]

figures = st.one_of(
    st.integers(0, 10**6),
    st.fractions(0, 1000, max_denominator=720),
    st.decimals(0, 1000, places=3),
)


@pytest.mark.parametrize("name", WEEKS)
def test_means_of_the_ten_activities_are_as_printed(name: str) -> None:
    low, likely, high, printed = WEEKS[name]
    assert three_point_mean(Decimal(low), Decimal(likely), Decimal(high)) == printed


def test_spread_of_the_ten_activities_is_as_printed() -> None:
    assert round(float(three_point_variance(4, 5, 12)), 2) == 1.78
    variance = sum(
        three_point_variance(*(Decimal(figure) for figure in WEEKS[name][:3]))
        for name in CRITICAL_WEEKS
    )
    assert round(sqrt(variance), 2) == 1.65


@pytest.mark.parametrize(("figures_", "mean", "variance"), NINE)
def test_nine_activities_are_as_printed(
    figures_: tuple[int, int, int], mean: str, variance: str
) -> None:
    assert three_point_mean(*figures_) == Fraction(mean)
    assert f"{float(three_point_variance(*figures_)):.7f}" == variance


def test_four_deciding_activities_last_as_long_as_printed() -> None:
    assert sum(three_point_mean(*figures_) for figures_ in DECIDING) == 24


@given(
    st.tuples(figures, figures, figures).map(
        lambda drawn: sorted(drawn, key=lambda figure: Fraction(figure))
    )
)
def test_mean_lies_between_and_spread_is_a_sixth_of_the_range(
    drawn: list[int | Fraction | Decimal],
) -> None:
    low, likely, high = drawn
    assert Fraction(low) <= three_point_mean(low, likely, high) <= Fraction(high)
    assert 6 * three_point_sd(low, likely, high) == Fraction(high) - Fraction(low)
    assert three_point_variance(low, likely, high) == three_point_sd(low, likely, high) ** 2


def test_nothing_is_rounded_on_the_way() -> None:
    assert three_point_mean(Decimal("0.1"), Decimal("0.1"), Decimal("0.2")) == Fraction(7, 60)
    assert three_point_sd(0, 0, 1) == Fraction(1, 6)


@pytest.mark.parametrize("wrong", [(2, 1, 3), (1, 3, 2), (3, 2, 1)])
def test_figures_out_of_order_are_refused(wrong: tuple[int, int, int]) -> None:
    with pytest.raises(ValueError, match="low <= likely <= high"):
        three_point_mean(*wrong)
    with pytest.raises(ValueError, match="low <= likely <= high"):
        three_point_sd(*wrong)
