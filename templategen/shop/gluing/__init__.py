"""The gluing plan: what is glued in which step, with how much glue, in what time, held by what."""
