"""The profile: what the maker writes, read, checked and turned into millimetres and radians."""
