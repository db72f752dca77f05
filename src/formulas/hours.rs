//! Hours: an amount over a pace, times what handling adds. Paces are the person's own once logged; until then ranges from diaries.

use super::registry::formulas;

formulas! {
    /// Time for a mass of fibre.
    BY_MASS "hours-by-mass": (m: Mass G 0.0..10000000.0, r: MassRate G_H 0.1..100000.0) -> t: Duration HOUR
        = "m/r"; |[m, r]| m / r; Identity "identity" "amount over pace";
    /// Time for a length of yarn at a pace while working, s the share of the time that goes in stops.
    BY_LENGTH "hours-by-length": (L: Length M 0.0..100000000.0, v: Speed M_H 1.0..100000.0, s: Ratio PERCENT 0.0..90.0) -> t: Duration HOUR
        = "L/(v*(1-s/100))"; |[l, v, s]| l / v / (1.0 - s / 100.0); Identity "identity" "amount over pace";
    /// Time for a number of things at a pace while working.
    BY_NUMBER_WITH_STOPS "hours-by-number-with-stops": (n: Number EACH 0.0..100000000.0, r: Rate PER_MIN 0.01..1000.0, s: Ratio PERCENT 0.0..90.0) -> t: Duration HOUR
        = "n/(60*r*(1-s/100))"; |[n, r, s]| n / (60.0 * r) / (1.0 - s / 100.0); Identity "identity" "amount over pace";
    /// Time for a number of things.
    BY_NUMBER "hours-by-number": (n: Number EACH 0.0..100000000.0, r: Rate PER_H 0.01..1000000.0) -> t: Duration HOUR
        = "n/r"; |[n, r]| n / r; Identity "identity" "amount over pace";
    /// Time for a length at a pace that has its stops in it.
    AT_PACE "hours-at-pace": (L: Length M 0.0..100000000.0, v: Speed M_H 1.0..100000.0) -> t: Duration HOUR
        = "L/v"; |[l, v]| l / v; Identity "identity" "amount over pace";
    /// Singles to spin for a plied length, what plying takes up left out.
    SINGLES_LENGTH "singles-length": (n: Number EACH 1.0..8.0, L: Length M 0.0..100000000.0) -> Ls: Length M
        = "n*L"; |[n, l]| n * l; Derived "counting" "a single a ply; plying contraction is a few per cent";
    /// Threads to draw: an end goes through each of the heddles, by eye or by slot.
    THREADING_MOVES "threading-moves": (n: Number EACH 0.0..100000.0, h: Number EACH 1.0..4.0) -> k: Number EACH
        = "n*h"; |[n, h]| n * h; Derived "counting" "every end through every heddle";
    /// Pulls of all prints, each ink by itself.
    PULLS "pulls": (n: Number EACH 0.0..100000.0, k: Number EACH 1.0..20.0) -> p: Number EACH
        = "n*k"; |[n, k]| n * k; Identity "identity" "every ink on every article";
    /// Time for what is made for each ink.
    FOR_EACH_INK "hours-for-each-ink": (k: Number EACH 1.0..20.0, t1: Duration HOUR 0.0..10000.0) -> t: Duration HOUR
        = "k*t1"; |[k, t]| k * t; Identity "identity" "a film and a screen an ink";
    /// A step done once.
    ONCE "hours-once": (t1: Duration HOUR 0.0..10000.0) -> t: Duration HOUR
        = "t1"; |[t]| t; Identity "identity" "";
    /// Times one after the other.
    AND_THEN "hours-and-then": (a: Duration HOUR 0.0..1000000.0, b: Duration HOUR 0.0..1000000.0) -> t: Duration HOUR
        = "a+b"; |[a, b]| a + b; Identity "identity" "sum";
    /// Weeks that a time of work takes at so many hours a week.
    WEEKS "hours-weeks": (t: Duration HOUR 0.0..1000000.0, w: Duration HOUR 0.1..168.0) -> n: Ratio ONE
        = "t/w"; |[t, w]| t / w; Identity "identity" "quotient";
}
