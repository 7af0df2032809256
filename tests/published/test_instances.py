"""The engine holds against published optima, and every plan against the instance's own terms."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from scheduler.model.run import Status
from scheduler.model.whole import ModelResult
from scheduler.problem import Schedule
from tests.bench import bare, published
from tests.published.instances import problem_of
from tests.published.readers import read
from tests.published.recheck import broken

DATA = Path(__file__).parent / "data"
FAST = {
    "patterson": 4,
    "rcpspmax_j10": 4,
    "psplib_j30": 3,
    "psplib_mm_j10": 1,
    "mspsp_1a": 1,
    "jobshop": 1,
}


def _instances() -> Iterator[tuple[Path, published.Known, bool]]:
    for name, fast_count in FAST.items():
        known = published.read_known(DATA / "known_values.csv", name)
        for at, path in enumerate(published.instances_in(DATA / name, known, None)):
            yield path, known[path.name], at >= fast_count


@pytest.mark.published
@pytest.mark.parametrize(
    ("path", "known"),
    [
        pytest.param(
            path,
            known,
            id=f"{path.parent.name}-{path.name}",
            marks=[pytest.mark.slow] if slow else [],
        )
        for path, known, slow in _instances()
    ],
)
def test_the_published_value_is_found_and_proved(path: Path, known: published.Known) -> None:
    run = published.solve(path, known, seconds=60, workers=2)

    assert run.proved
    assert not run.broken
    assert not run.contradicts
    assert run.value == known.upper


@pytest.mark.parametrize(
    "name",
    [
        "patterson/pat3.rcp",
        "rcpspmax_j10/PSP9.SCH",
        "psplib_mm_j10/j1012_2.mm",
        "jobshop/ft06",
    ],
)
def test_bare_cp_sat_says_the_same(name: str) -> None:
    path = DATA / name
    known = published.read_known(DATA / "known_values.csv", path.parent.name)[path.name]

    run = published.solve_bare(path, known, seconds=60, workers=2)

    assert run.proved
    assert not run.broken
    assert run.value == known.upper


def test_bare_cp_sat_sends_people_who_can() -> None:
    path = next((DATA / "mspsp_1a").iterdir())
    instance = read(path)

    answer = bare.solve(instance, seconds=2, workers=2)

    assert answer.schedule is not None
    assert not broken(instance, answer.schedule)


def test_every_file_of_the_checkout_has_a_known_value() -> None:
    files = [path for path in DATA.glob("*/*") if path.is_file()]

    assert len(files) >= 36
    assert {path for path, _, _ in _instances()} == set(files)


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("patterson/pat3.rcp", "before the end of"),
        ("rcpspmax_j10/PSP9.SCH", "lag"),
        ("psplib_j30/j302_3.sm", "units of resource"),
    ],
)
def test_a_plan_pulled_together_is_seen_to_be_broken(name: str, what: str) -> None:
    instance = read(DATA / name)
    lengths = [modes[0].duration for modes in instance.modes]
    zero = (0,) * len(lengths)
    schedule = Schedule(starts=zero, ends=tuple(lengths), ways=zero, teams=((),) * len(lengths))

    assert any(what in line for line in broken(instance, schedule))


def test_a_plan_with_the_wrong_people_is_seen_to_be_broken() -> None:
    instance = read(next((DATA / "mspsp_1a").iterdir()))
    zero = (0,) * len(instance.modes)
    everybody = tuple(range(len(instance.people)))
    schedule = Schedule(
        starts=zero,
        ends=tuple(modes[0].duration for modes in instance.modes),
        ways=zero,
        teams=(everybody,) * len(zero),
    )

    found = broken(instance, schedule)

    assert any("team" in line for line in found)
    assert any("two things at once" in line for line in found)


def test_every_format_is_read_to_its_end() -> None:
    counts = {
        "patterson/pat3.rcp": (13, 3),
        "rcpspmax_j10/PSP9.SCH": (12, 5),
        "psplib_j30/j302_3.sm": (32, 4),
        "psplib_mm_j10/j1012_2.mm": (12, 2),
        "jobshop/ft06": (38, 6),
    }
    for name, (activity_count, resource_count) in counts.items():
        problem = problem_of(read(DATA / name))
        assert (len(problem.stages), len(problem.rooms)) == (activity_count, resource_count)
    assert len(problem_of(read(DATA / "psplib_mm_j10/j1012_2.mm")).consumables) == 2


class TestTheBench:
    """What the summary counts, on runs made up for it."""

    def test_natural_order_counts_as_people_do(self) -> None:
        names = ["j3010_1.sm", "j301_10.sm", "j301_2.sm"]
        assert sorted(names, key=published.natural) == ["j301_2.sm", "j301_10.sm", "j3010_1.sm"]

    @pytest.mark.parametrize(
        ("lower", "upper", "status", "value", "wrong"),
        [
            (10, 12, Status.FOUND, 9, True),
            (10, 12, Status.FOUND, 13, False),
            (10, 12, Status.PROVED, 13, True),
            (10, 12, Status.PROVED, 11, False),
            (10, 12, Status.NOTHING_FITS, None, True),
            (10, 12, Status.UNKNOWN, None, False),
            (None, None, Status.FOUND, 50, True),
            (None, None, Status.NOTHING_FITS, None, False),
            (None, None, Status.UNKNOWN, None, False),
        ],
    )
    def test_a_contradiction_is_called_one(
        self, lower: int | None, upper: int | None, status: Status, value: int | None, wrong: bool
    ) -> None:
        assert _run(lower, upper, status, value).contradicts is wrong

    def test_the_summary_counts_as_it_says(self) -> None:
        runs = [
            _run(10, 10, Status.PROVED, 10),
            _run(10, 20, Status.FOUND, 25),
            _run(10, 20, Status.FOUND, 15),
            _run(10, 20, Status.UNKNOWN, None),
            _run(None, None, Status.NOTHING_FITS, None),
        ]

        figures = published.summary("made_up", runs)

        assert figures["instances"] == 5
        assert figures["proved"] == 2
        assert figures["optimal"] == 1
        assert figures["mean_deviation_percent"] == (0 + 25 + 0 + 100) / 4
        assert figures["contradictions"] == 0

    def test_places_count_from_one(self) -> None:
        known = published.read_known(DATA / "known_values.csv", "patterson")
        every = published.instances_in(DATA / "patterson", known, None)

        odd, even = (
            published.instances_in(DATA / "patterson", known, None, places)
            for places in ("odd", "even")
        )

        assert odd == every[::2]
        assert even == every[1::2]
        assert published.instances_in(DATA / "patterson", known, 1, "even") == every[1:2]

    def test_bare_stands_beside_ours_under_the_same_names(
        self, capsys: pytest.CaptureFixture[str]
    ) -> None:
        known = str(DATA / "known_values.csv")
        said = [str(DATA / "patterson"), "--known", known, "--seconds", "20", "--limit", "1"]

        assert published.main([*said, "--bare", "--json"]) == 0

        figures = json.loads(capsys.readouterr().out.splitlines()[-1])
        plain = figures.pop("bare")
        assert plain.keys() == figures.keys()
        assert plain["proved"] == figures["proved"] == 1

    def test_a_folder_without_known_values_is_refused(self, tmp_path: Path) -> None:
        known = str(DATA / "known_values.csv")
        assert published.main([str(tmp_path), "--known", known, "--seconds", "1"]) == 2


def _run(lower: int | None, upper: int | None, status: Status, value: int | None) -> published.Run:
    return published.Run(
        name="made up",
        known=published.Known(lower=lower, upper=upper),
        result=ModelResult(status=status, values=() if value is None else (value,)),
        broken=(),
        seconds=1.0,
    )
