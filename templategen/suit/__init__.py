"""Tables near the one asked that are better to build."""
