"""Sheets of numbers that a person fills in, takes away and brings back."""
