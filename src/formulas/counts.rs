//! Counts and reeds: the trade's conversions. The chain itself converts through `units`; these are for the handbook and for checking
//! printed tables.

use super::registry::formulas;
use std::f64::consts::PI;

formulas! {
    /// Count of any hank system in tex: h is the yards in its hank to the pound.
    TEX_FROM_HANK "tex-from-hank": (h: Ratio ONE 100.0..2000.0, N: Ratio ONE 0.1..500.0) -> Tt: LinearDensity TEX
        = "453592.37/(h*0.9144*N)"; |[h, n]| 453_592.37 / (h * 0.9144 * n); Identity "astm-d2260" "yards of a hank to the pound";
    /// Count of a yarn in another hank system.
    HANK_TO_HANK "hank-to-hank": (N: Ratio ONE 0.1..500.0, a: Ratio ONE 100.0..2000.0, b: Ratio ONE 100.0..2000.0) -> N2: Ratio ONE
        = "N*a/b"; |[n, a, b]| n * a / b; Published "brooks-1892" "Wrapping";
    /// French count from the English.
    FRENCH_COUNT "french-count": (Ne: LinearDensity NE 0.5..300.0) -> Nf: Ratio ONE
        = "Ne/1.181"; |[ne]| ne / 1.181; Published "brooks-1892" "Wrapping";
    /// Count from the grains of 120 yards.
    COUNT_FROM_GRAINS "count-from-grains": (g: Ratio ONE 1.0..2000.0) -> Ne: LinearDensity NE
        = "1000/g"; |[g]| 1000.0 / g; Published "brooks-1892" "Wrapping";
    /// Count from a measured length and mass.
    COUNT_FROM_SAMPLE "count-from-sample": (m: Mass G 0.001..10000.0, L: Length M 0.1..100000.0) -> Tt: LinearDensity TEX
        = "1000*m/L"; |[m, l]| 1000.0 * m / l; Identity "identity" "tex is grams per kilometre";
    /// Metres in a gram.
    METRES_PER_GRAM "metres-per-gram": (Tt: LinearDensity TEX 0.1..100000.0) -> g: LinearDensity M_G
        = "1000/Tt"; |[t]| 1000.0 / t; Identity "identity" "tex is grams per kilometre";
    /// Mass of a length of yarn.
    MASS_OF_LENGTH "mass-of-length": (Tt: LinearDensity TEX 0.1..5000.0, L: Length M 0.1..1000000000.0) -> m: Mass G
        = "Tt*L/1000"; |[t, l]| t * l / 1000.0; Published "warping-calculations" "weight on a beam";
    /// Length of a mass of yarn.
    LENGTH_OF_MASS "length-of-mass": (m: Mass G 0.01..1000000000.0, Tt: LinearDensity TEX 1.0..5000.0) -> L: Length M
        = "1000*m/Tt"; |[m, t]| 1000.0 * m / t; Published "warping-calculations" "length on a package";
    /// Mean count of two lots of yarn by mass.
    MEAN_COUNT "mean-count": (m1: Mass KG 0.01..10000.0, T1: LinearDensity TEX 1.0..5000.0, m2: Mass KG 0.01..10000.0, T2: LinearDensity TEX 1.0..5000.0) -> Tt: LinearDensity TEX
        = "(m1+m2)/(m1/T1+m2/T2)"; |[m1, t1, m2, t2]| (m1 + m2) / (m1 / t1 + m2 / t2); Published "gate" "2013 Q40";
    /// Yards to the ounce of silk by the old denier: 533 1/3 to the ounce, skein of 520 yards, so 0.6 % more than today's.
    SILK_YARDS "silk-yards-per-ounce": (den: Ratio ONE 5.0..500.0) -> y: Ratio ONE
        = "1600*520/(3*den)"; |[d]| 1600.0 * 520.0 / (3.0 * d); Published "taylor-1909" "pp. 238-239";
    /// Count out of a drafting chain.
    DRAFTED "drafted-count": (Tin: LinearDensity KTEX 0.01..100.0, n: Number EACH 1.0..10000.0, D: Ratio ONE 1.0..1000000.0) -> Tt: LinearDensity TEX
        = "1000*Tin*n/D"; |[t, n, d]| 1000.0 * t * n / d; Published "gate" "2018 Q46, 2006 Q28";
    /// Yards per pound of a wool quality number.
    WOOL_YARDS "wool-quality-yards": (q: Ratio ONE 20.0..100.0) -> y: LinearDensity YD_LB
        = "560*q"; |[q]| 560.0 * q; Published "kentucky-asc127" "quality numbers";
    /// Turns that one wrap drawn over the end of a package adds.
    OVER_END_TWIST "over-end-twist": (d: Length MM 5.0..500.0) -> T: PerLength PER_M
        = "1000/(pi*d)"; |[d]| 1000.0 / (PI * d); Published "klein-manual" "variation in yarn twist";
    /// Dents per inch of a reed system with n dents in l inches a count.
    REED_DENTS "reed-dents": (N: Ratio ONE 1.0..4000.0, n: Ratio ONE 1.0..200.0, l: Length INCH 0.5..50.0) -> r: PerLength PER_IN
        = "N*n/l"; |[c, n, l]| c * n / l; Published "taylor-1909" "pp. 243-244; brooks-1892 p. 92";
    /// Ends per inch from dents and ends in a dent.
    ENDS_FROM_DENTS "ends-from-dents": (r: PerLength PER_IN 1.0..200.0, n: Number EACH 1.0..8.0) -> e: PerLength PER_IN
        = "r*n"; |[r, n]| r * n; Published "taylor-1909" "p. 243";
    /// Heddles to the inch on one shaft.
    HEDDLES_PER_SHAFT "heddles-per-shaft": (p: PerLength PER_IN 0.1..200.0, k: Number EACH 1.0..200.0) -> h: PerLength PER_IN
        = "p*k"; |[p, k]| p * k; Published "brooks-1892" "Healds: k threads of a repeat, p repeats to the inch";
    /// Hanks of weft in a piece.
    WEFT_HANKS "weft-hanks": (w: Length INCH 1.0..200.0, L: Length YARD 1.0..1000.0, p: PerLength PER_IN 1.0..300.0) -> H: Ratio ONE
        = "w*L*p/840"; |[w, l, p]| w * l * p / 840.0; Published "taylor-1909" "p. 436";
    /// Yards an hour of a loom.
    LOOM_OUTPUT "loom-output": (r: Rate PER_MIN 1.0..500.0, p: PerLength PER_IN 1.0..300.0, q: Ratio ONE 0.05..1.0) -> y: Speed YD_H
        = "60*r*q/(36*p)"; |[r, p, q]| 60.0 * r * q / (36.0 * p); Published "textilecalculation" "2015/02 and 2015/03";
    /// Size taken up on the warp.
    SIZE_ADD_ON "size-add-on": (c: Ratio PERCENT 0.1..40.0, w: Ratio ONE 0.2..3.0) -> a: Ratio PERCENT
        = "c*w"; |[c, w]| c * w; Published "nptel-sizing" "module 5";
    /// Tension of a stretched thread from a sideways push at its middle.
    TENSION_FROM_PUSH "tension-from-push": (F: Force N 0.01..100.0, L: Length MM 50.0..5000.0, y: Length MM 1.0..200.0) -> T: Force N
        = "F*L/(4*y)"; |[f, l, y]| f * l / (4.0 * y); Published "laurasloom" "2021/03";
    /// Yards to the ounce of silk by the dram scale: drams that 1000 yards weigh.
    SILK_DRAMS "silk-yards-by-dram": (dr: Ratio ONE 0.2..50.0) -> y: Ratio ONE
        = "16000/dr"; |[d]| 16_000.0 / d; Published "taylor-1909" "p. 239";
    /// Number of a reed in a system that counts groups of n dents in l inches.
    REED_NUMBER "reed-number": (r: PerLength PER_IN 0.01..400.0, l: Length INCH 0.5..50.0, n: Ratio ONE 1.0..200.0) -> N: Ratio ONE
        = "r*l/n"; |[r, l, n]| r * l / n; Published "brooks-1892" "p. 92";
    /// Hanks of warp in a piece.
    WARP_HANKS "warp-hanks": (n: Number EACH 1.0..50000.0, L: Length YARD 0.5..10000000.0) -> H: Ratio ONE
        = "n*L/840"; |[n, l]| n * l / 840.0; Published "textilecalculations" "total quantity of materials";
    /// Share of its time that a loom weaves, from what it wove.
    LOOM_EFFICIENCY "loom-efficiency": (r: Rate PER_MIN 1.0..500.0, p: PerLength PER_IN 1.0..300.0, L: Length YARD 0.1..100000.0, t: Duration HOUR 0.1..10000.0) -> q: Ratio PERCENT
        = "100*36*p*L/(60*r*t)"; |[r, p, l, t]| 100.0 * 36.0 * p * l / (60.0 * r * t); Published "textilecalculation" "2015/03";
}
