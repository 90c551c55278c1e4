"""What was made before and would come out the same: kept by its content in the maker's cache folder."""
