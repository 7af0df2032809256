"""The integer problem as a CP-SAT model: the only place that knows the solver."""
