"""The packet: from a profile, by all the stages in order, to the files a maker holds.

The one room beside the commands that puts stages together, so that the commands and the Python library do the
same thing.
"""
