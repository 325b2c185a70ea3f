"""What asks one or several beds: fixes, comparisons, one bill or cut plan for all."""
