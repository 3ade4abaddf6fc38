"""The colours and line styles of every chart. Hue says pain (violet) or work done (brass), never good or bad."""

INK = "#1c2229"
IRON = "#545c66"
STEEL = "#7b838c"
HAIR = "#d3d8dc"
GROUND = "#fbfcfb"
BRUISE, BRUISE_EDGE, BRUISE_FILL = "#58297f", "#8b6aa8", "#dfd3ea"
BRASS, BRASS_SOLID, BRASS_FILL = "#8a6210", "#b08a3a", "#eee3c6"

DOTTED = (0, (1, 1.6))  # what nobody reported
DASHED = (0, (5, 2.5))  # a recorded change
BROKEN = (0, (3, 2))  # a raw figure

WIDE, NARROW = 8.5, 3.7  # inches
SMALL, NAME, STRONG = 10, 11, 12  # points, the same on the page and on the phone

BACKING = {"fc": GROUND, "ec": "none", "pad": 0.6}  # paper behind words that a line would cross
