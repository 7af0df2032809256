"""Between the book and the road: a journey of a job counted back from its window.

`judged`: which journeys are held against drivers' hours, and how their legs part into road, site
and way home. `lengths`, `timetables`, `openings`: what a leg takes, when it sails, when it may be
worked on. `choices`: the ways to go, each with its rules and price. `delivery`: the question and
its answers. `loading`: how far before a departure loading begins.

Pure: no clock. Who only wants to know whether a journey is judged imports `judged` and nothing
that searches.
"""
