"""The table: the maker's profile, and from it every part in place and the joints between them."""
