"""Parts the surfaces are made of; each shows what it is given and says what was typed into it."""
