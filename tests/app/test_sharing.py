"""Two who open one book in two processes lose nothing of each other."""

import json
import subprocess
import sys

import pytest

from tests.house.tree import ROOT

pytestmark = pytest.mark.slow


def test_two_in_two_processes_lose_nothing_in_whatever_order_they_come() -> None:
    asked = [sys.executable, "-m", "tests.bench", "sharing", "--rounds", "20", "--seed", "3"]
    done = subprocess.run([*asked, "--json"], cwd=ROOT, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stdout + done.stderr
    told = json.loads(done.stdout.splitlines()[-1])
    assert (told["rounds"], told["lost"], told["broken"]) == (20, 0, 0)
    assert told["written"] > 20
    assert told["killed"] > 0
