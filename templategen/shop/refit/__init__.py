"""Re-fitting: from what was measured on the parts already cut to the shape of those still to cut."""
