"""The page of a packet: one HTML file that holds all it shows."""
