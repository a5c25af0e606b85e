"""The engine: from a recipe to a plan. Pure Python with numpy and scipy; no Qt, no clock, no locale."""
