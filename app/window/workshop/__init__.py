"""The workshop's page: people, places, hours, rates, ways of making, and where work stands."""
