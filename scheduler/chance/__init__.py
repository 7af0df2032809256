"""How sure a plan is: thousands of draws of hours, answers and cures, replayed by pools.

The only part of the engine that reckons in fractions of its own: what it says are shares of draws.
"""

from scheduler.chance.draws import DRAWS, SEED
from scheduler.chance.estimate import chances_of, with_chances
from scheduler.chance.values import Chances, JobChance, Risk

__all__ = ["DRAWS", "SEED", "Chances", "JobChance", "Risk", "chances_of", "with_chances"]
