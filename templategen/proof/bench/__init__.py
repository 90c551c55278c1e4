"""A bench that follows the written plan of work: it does what stands there, by its figures, and knows no table."""
