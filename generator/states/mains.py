"""The public supply as the solvers and pages take it: volts, limits, and what lies before the first terminal.

Knows numbers only: nothing of any circuit.
"""

NOMINAL_V = 230.0
HERTZ = 50.0

LOWEST_V = 216.2
"""230 V less 6 %: The Electricity Supply (Amendment) (No. 2) Regulations 1994 (SI 1994/3021), kept by the
Electricity Safety, Quality and Continuity Regulations 2002 (SI 2002/2665)."""

HIGHEST_V = 253.0
"""230 V and 10 %: as above."""

NEUTRAL_EARTH_V = 15.0
"""Above this, from neutral to earth, something is wrong: common practice, no source. A few volts are usual."""

LINE_OHM = 0.5
"""From the source to the line terminal of a supply: 0.35 ohm outside the house, 0.15 ohm within (from memory)."""

NEUTRAL_OHM = 0.15
"""From the neutral terminal of a supply to where neutral and earth are joined: TN system (from memory)."""

EARTH_OHM = 0.15
"""From the earth terminal of a supply to that same point (from memory)."""
