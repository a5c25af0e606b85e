"""The one place a translation is looked up; every sentence of the program passes through here."""

from __future__ import annotations

import os
from gettext import NullTranslations

VARIABLE = "SALTWRIGHT_LANGUAGE"
"""The environment's word for the language; "pseudo" is the one made up for tests and pictures."""

_translations = NullTranslations()


def speak(language: str) -> None:
    """Have every text from now on in this language; what was asked for before stays as it was."""
    global _translations
    if language == "pseudo":
        from app.wording.pseudo import Pseudo  # never for people

        _translations = Pseudo()
    else:
        _translations = NullTranslations()


def gettext(message: str) -> str:
    """Return the message in the language in use; English, the language of the source, needs no catalogue."""
    return _translations.gettext(message)


def marked(message: str) -> str:
    """Return the message as it is: it marks text in a table, which is looked up when it is shown."""
    return message


speak(os.environ.get(VARIABLE, ""))
