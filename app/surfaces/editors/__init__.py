"""Sheets in which water, shelf, aim and tanks are typed as they are printed; every change is live and can be undone."""

from app.surfaces.editors.editors import Editors

__all__ = ["Editors"]
