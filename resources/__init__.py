"""The data Saltwright ships with."""
