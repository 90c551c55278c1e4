"""The fit: parts as solids and as layers, dry-fitted in place, and the order in which they go together."""
