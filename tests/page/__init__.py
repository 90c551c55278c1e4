"""The page of a packet, looked at by a real browser without a screen."""
