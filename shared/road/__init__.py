"""Drivers' hours, lorry bans and the countback of legs on a grid of quarter hours.

Pure: no clock, no book. Law is quoted as figures with their sources; open the current text
before a live job. `countback` asks; `law` is what it asks of drivers' hours, counted for one
driver in `state`, for two in `two`, with weekly rests in `weekly`. Not judged here: a reduced
weekly rest, and a weekly one on a ferry; a journey that needs either is refused.
"""
