"""Parts: a blank, the features cut into it, and the faces they are cut into."""
