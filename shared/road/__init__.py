"""Drivers' hours, lorry bans and the countback of legs on a grid of quarter hours.

Pure: no clock, no book. Law is quoted as figures with their sources; open the current text
before a live job. Not judged here: two drivers, and a weekly rest inside a journey (the search
refuses to drive past the time by which one has to begin).
"""
