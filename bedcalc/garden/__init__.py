"""The garden: a place with its beds, the file that keeps it, and two versions merged."""
