"""Two invented recipes of one invented grower, shown at the first start."""
