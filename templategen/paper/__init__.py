"""Paper: what is printed full size laid on pages, and pages laid together. Pure geometry, millimetres of paper."""
