"""A workshop's year, simulated: ``python -m tests.bench year [--seeds N] [--load PERCENT]``.

Worlds (`world`, drawn from a seed and a load) are lived through morning after morning (`season`)
by the engine (`ours`), by four hand rules (`rules`) and by who knew all draws (`knowing`). `floor`
is what truly happens, by code of its own; `score` counts.
"""


def main(argv: list[str]) -> int:
    """Run the bench; the engine is imported only then."""
    from tests.bench.year.run import main as run

    return run(argv)
