"""How every figure came about, down to the maker's own inputs."""
