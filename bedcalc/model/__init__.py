"""Given and chosen, with all its checks: place, plot, bed, materials, prices."""
