"""Drawings of the help, each a function that draws it in the language of the moment."""
