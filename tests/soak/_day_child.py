"""The engine's child as it is, in a day of which a minute takes some two seconds.

python -m tests.soak._day_child
"""

import sys

from app import engine_child

engine_child._BEATS_TO_GIVE_BACK = 2

if __name__ == "__main__":
    sys.exit(engine_child.main())
