"""Questions beside the plan, asked of a process of their own: why, ways out, what a rush does."""
