"""A standing segment takes its floor from the start of its first stage to the end of its last.

The units are taken over [start(first), end(last)), from step 0 where it stands there already.
Pinned by tests/scheduler/test_model_rules.py, "holds".
"""

from scheduler.model.variables import Frame, Load, span_of


def load(frame: Frame) -> None:
    """Take the units of every hold."""
    for hold in frame.problem.holds:
        if not hold.units:
            continue
        start = 0 if hold.first is None else frame.stages[hold.first].start
        end = frame.stages[hold.last].end
        size = frame.model.new_int_var(1, frame.problem.horizon, "")
        # The solver would let nothing else cross a hold of no length.
        stands = frame.model.new_bool_var("")
        frame.model.add(end <= start).only_enforce_if(~stands)
        held = span_of(frame, start, size, end, stands)
        frame.room_loads.setdefault(hold.room, []).append(Load(interval=held, units=hold.units))
