"""Equilibrium constants, conductivities and volumes the engine reads, each row with its source."""
