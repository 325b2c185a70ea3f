"""The garden: a place with its beds, its file, and two versions of it merged."""
