"""Salts, acids, crops, waters and their hazards, with the sources they were taken from."""
