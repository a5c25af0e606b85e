"""The engine without a window: what the command line answers. Nothing here imports Qt."""
