"""What the eye sees of solids: facets, lines of sight with what they hide, shades, and slices through them."""
