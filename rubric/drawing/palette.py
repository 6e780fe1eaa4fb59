"""Colours, line widths and sizes, in units of the drawing (720 across the page; a smaller figure has fewer)."""

from __future__ import annotations

INK = "#1f2328"
TENSION = "#0f7a43"
COMPRESSION = "#5b2a86"
NOTHING = "#6e6e6e"
MOVEMENT = "#0b5cad"
OVER = "#a3261d"
FAINT = "#8a8f96"
PAPER = "#ffffff"
SHADE = "#eef0f2"

TENSION_WIDTH = 1.7
COMPRESSION_WIDTH = 4.4
NOTHING_WIDTH = 1.6
DOTS = "0.1 4.2"
"""With round line ends: dots."""
DASHES = "6 4"

WIDTH = 720.0
TEXT = 12.0
FONTS = "Andika, 'Noto Sans', 'Droid Sans Fallback', 'DejaVu Sans', sans-serif"
