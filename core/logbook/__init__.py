"""The logbook: what was mixed and what happened to each reservoir, its file, and what can be read out of it."""
