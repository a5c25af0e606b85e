"""The Design surface: the aim, the salts that serve it, ions, tanks and cautions at a glance."""

from app.surfaces.design.surface import DesignSurface

__all__ = ["DesignSurface"]
