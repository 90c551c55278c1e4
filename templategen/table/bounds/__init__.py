"""What can't be built: the limits that the sizes of a table set one another, by subject."""
