"""A written packet read back: do its files measure what its record says?

Nothing here is shared with what writes: files are read by other libraries, or from the text alone.
"""
