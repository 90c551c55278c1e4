"""The shop side: what is cut, what is bought."""
