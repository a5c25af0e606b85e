"""The window and the command line. No chemistry and no arithmetic on amounts: that is `core`."""

__version__ = "0.1.0"
