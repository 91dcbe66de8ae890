"""Every number of the decompression rules that decides something: one home, a unit, a source.

Tags: [P] page read, [S] secondary notes, [M] from memory, unverified, [C] computed from the tables,
[own] our choice.
R4, R7: U.S. Navy Diving Manual, Revision 4 Change A (2001) and Revision 7 (2016).
"""

CORRECTION_BANDS_FSW = ((100, 1), (200, 2), (300, 4), (400, 7))
"""Pneumofathometer correction: deepest reading of the band, fsw to add. R4 Table 14-1 [P 250; S bands]."""

GAUGE_ROUNDING_FSW = 0.2
"""A gauge reading this little over a whole fsw still counts as that whole fsw [own]."""

GAUGE_DUST_DECIMALS = 6
"""Decimals that a reading is cut to before it is compared, so that 58.2 is not more than 58.2 [own]."""
