"""Water: evapotranspiration, and the water of the root zone day by day."""
