"""The plan of work: every operation in order, from rough boards to a finished table."""
