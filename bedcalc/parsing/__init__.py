"""What a person typed or a file says, as a number with its unit."""
