"""Set-ups: what is set at each machine, once for all the parts that share it."""
