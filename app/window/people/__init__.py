"""The foreman's view: who works where, today by the hour and the days after."""
