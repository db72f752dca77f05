//! Hours: an amount over a pace, times what handling adds. Paces are the person's own once logged; until then ranges from diaries.

use super::registry::formulas;

formulas! {
    /// Time for a mass of fibre.
    BY_MASS "hours-by-mass": (m: Mass G 0.0..10000000.0, r: MassRate G_H 0.1..100000.0) -> t: Duration HOUR
        = "m/r"; |[m, r]| m / r; Identity "identity" "amount over pace";
    /// Time for a length of yarn, with stops.
    BY_LENGTH "hours-by-length": (L: Length M 0.0..100000000.0, v: Speed M_H 1.0..100000.0, k: Ratio ONE 1.0..5.0) -> t: Duration HOUR
        = "L/v*k"; |[l, v, k]| l / v * k; Derived "practice" "stops add about a quarter";
    /// Time for a number of things.
    BY_NUMBER "hours-by-number": (n: Number EACH 0.0..100000000.0, r: Rate PER_H 0.01..1000000.0) -> t: Duration HOUR
        = "n/r"; |[n, r]| n / r; Identity "identity" "amount over pace";
    /// Time for an area.
    BY_AREA "hours-by-area": (A: Area M2 0.0..100000.0, r: Duration HOUR 0.0..1000.0) -> t: Duration HOUR
        = "A*r"; |[a, r]| a * r; Identity "identity" "hours a square metre";
    /// Times one after the other.
    AND_THEN "hours-and-then": (a: Duration HOUR 0.0..1000000.0, b: Duration HOUR 0.0..1000000.0) -> t: Duration HOUR
        = "a+b"; |[a, b]| a + b; Identity "identity" "sum";
    /// A time that grows with the number of articles.
    EACH_ARTICLE "hours-each-article": (n: Number EACH 0.0..1000.0, t1: Duration HOUR 0.0..1000.0) -> t: Duration HOUR
        = "n*t1"; |[n, t]| n * t; Identity "identity" "hours an article";
}
