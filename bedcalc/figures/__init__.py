"""Figures: an Outcome in, a Drawing out. Nothing here computes engineering."""
