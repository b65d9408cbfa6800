"""Sources that several calculators stand on, each written once."""

from baycalc.forms.form import published

GUARD_BAND = published("JCGM 106:2012; ILAC-G8:09/2019 (guard band at k = 2)")
UNCERTAINTY = published("JCGM 100:2008; ILAC-G8:09/2019 (guard band at k = 2)")
SHARP_EDGE = published(
    "D. A. Jobson, Proc. I. Mech. E. 169 (1955) 767 (coefficient of a sharp-edged hole), with 0.61 "
    "at small differences"
)
SHARP_EDGE_CHOKED = published(
    "D. A. Jobson, Proc. I. Mech. E. 169 (1955) 767 (coefficient of a sharp-edged hole, subsonic "
    "to choked), with 0.61 at small differences"
)
INCHES = published(
    "NIST SP 811:2008, Appendix B.8 (conventional inch of mercury 3386.389 Pa, of water 249.0889 "
    "Pa; at 60 °F they are 0.3 % and 0.1 % less)"
)
LEAK_SIZES = published("13 CCR 1968.2(e)(4.2.2)(B) and (C) (0.040 in and 0.020 in)")
FULLEST_TANK = published("13 CCR 1968.2(e)(4.3.3) (no leak check above 85 % fill)")
