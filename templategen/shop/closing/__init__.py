"""Will the ring close: what the shop's errors leave open at its joints, for each way of working."""
