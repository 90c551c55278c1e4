"""The table in a browser beside its sizes, from this machine: every change is followed at once."""
