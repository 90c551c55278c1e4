"""What the page of a packet shows, gathered from every stage, a file for each section."""
