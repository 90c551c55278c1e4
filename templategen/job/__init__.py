"""A job that was done, and what the workshop learns from it: rates, errors, moisture, and what lies on the rack."""
