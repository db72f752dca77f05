//! Warp, weft and fibre: what must be set up, wound and prepared. Going back through a loss always divides.

use super::registry::formulas;

formulas! {
    /// Length or width before two losses, one after the other.
    BEFORE_LOSSES "before-losses": (L: Length CM 0.1..1000000.0, a: Ratio PERCENT -20.0..80.0, b: Ratio PERCENT -20.0..80.0) -> L0: Length CM
        = "L/((1-a/100)*(1-b/100))"; |[l, a, b]| l / (1.0 - a / 100.0) / (1.0 - b / 100.0); Published "cnch-2016" "to finish 10 weave 12.5";
    /// Before one loss.
    BEFORE_LOSS "before-loss": (L: Length CM 0.1..1000000.0, a: Ratio PERCENT -20.0..80.0) -> L0: Length CM
        = "L/(1-a/100)"; |[l, a]| l / (1.0 - a / 100.0); Published "cnch-2016" "to finish 10 weave 12.5";
    /// Width in the reed: back through the wash, then the fixed draw-in of the edges, then the draw-in of the cloth.
    WIDTH_IN_REED "width-in-reed": (w: Length CM 1.0..1000.0, s: Ratio PERCENT -5.0..60.0, f: Length MM 0.0..50.0, a: Ratio PERCENT -1.0..60.0) -> W: Length CM
        = "(w/(1-s/100)+f/10)/(1-a/100)"; |[w, s, f, a]| (w / (1.0 - s / 100.0) + f / 10.0) / (1.0 - a / 100.0); Derived "cnch-2016" "division, with a fixed part for the edges";
    /// Width of the cloth off the loom.
    WIDTH_OFF_LOOM "width-off-loom": (W: Length CM 1.0..1000.0, a: Ratio PERCENT -1.0..60.0, f: Length MM 0.0..50.0) -> w: Length CM
        = "W*(1-a/100)-f/10"; |[w, a, f]| w * (1.0 - a / 100.0) - f / 10.0; Derived "cnch-2016" "the same turned round";
    /// Ends: whole, and even so that each slot has its eye.
    ENDS "ends": (W: Length CM 1.0..1000.0, s: PerLength PER_CM 0.3..300.0) -> n: Number EACH
        = "2*ceil(W*s/2-0.001)"; |[w, s]| 2.0 * (w * s / 2.0 - 0.001).ceil(); Identity "identity" "sett times width, up to the next pair";
    /// Warp left unwoven between articles.
    UNWOVEN "warp-unwoven": (n: Number EACH 1.0..10000.0, b: Length CM 0.0..100.0) -> u: Length CM
        = "(n-1)*b"; |[n, b]| (n - 1.0) * b; Identity "identity" "one gap fewer than articles";
    /// Warp that is not cloth and not loom waste.
    BESIDES "warp-besides": (x: Length CM 0.0..1000.0, u: Length CM 0.0..1000.0) -> s: Length CM
        = "x+u"; |[x, u]| x + u; Identity "identity" "";
    /// Warp to wind for each end.
    WARP_LENGTH "warp-length": (L: Length CM 1.0..100000.0, x: Length CM 0.0..1000.0, sl: Ratio PERCENT -5.0..60.0, a: Ratio PERCENT 0.0..60.0, wf: Length CM 0.0..500.0, wb: Length CM 0.0..500.0) -> Lw: Length M
        = "(L/((1-sl/100)*(1-a/100))+x+wf+wb)/100";
        |[l, x, sl, a, f, b]| (l / (1.0 - sl / 100.0) / (1.0 - a / 100.0) + x + f + b) / 100.0; Derived "cnch-2016" "division for losses, waste added";
    /// Yarn in the warp.
    WARP_YARN "warp-yarn": (n: Number EACH 1.0..20000.0, L: Length M 0.1..1000.0) -> Y: Length M
        = "n*L"; |[n, l]| n * l; Published "measuredthreads" "528 ends of 4 yards";
    /// Yarn of one pick: the woven width with its crimp and the turn at the edge.
    PICK_LENGTH "pick-length": (w: Length CM 1.0..1000.0, c: Ratio PERCENT 0.0..100.0, t: Length MM 0.0..60.0) -> l: Length CM
        = "w*(1+c/100)+t/10"; |[w, c, t]| w * (1.0 + c / 100.0) + t / 10.0; Identity "identity" "crimp by definition";
    /// Picks to weave.
    PICKS "picks": (L: Length CM 1.0..100000.0, x: Length CM 0.0..1000.0, s: Ratio PERCENT -5.0..60.0, p: PerLength PER_CM 0.3..300.0) -> n: Number EACH
        = "ceil((L/(1-s/100)+x)*p-0.001)"; |[l, x, s, p]| ((l / (1.0 - s / 100.0) + x) * p - 0.001).ceil(); Identity "identity" "length times picks";
    /// Yarn in the weft.
    WEFT_YARN "weft-yarn": (n: Number EACH 1.0..1000000.0, l: Length CM 1.0..2000.0) -> Y: Length M
        = "n*l/100"; |[n, l]| n * l / 100.0; Published "taylor-1909" "p. 436, hanks of weft";
    /// Yarn to spin: what is wound, a spare share, and a skein kept for repairs.
    YARN_TO_SPIN "yarn-to-spin": (w: Mass G 0.1..1000000.0, f: Mass G 0.1..1000000.0, s: Ratio PERCENT 0.0..100.0, r: Mass G 0.0..10000.0) -> m: Mass G
        = "(w+f)*(1+s/100)+r"; |[w, f, s, r]| (w + f) * (1.0 + s / 100.0) + r; Practice "practice" "spare share and a repair skein";
    /// Length to spin: the same, the repair skein at the warp's count.
    LENGTH_TO_SPIN "length-to-spin": (w: Length M 0.1..10000000.0, f: Length M 0.1..10000000.0, s: Ratio PERCENT 0.0..100.0, r: Mass G 0.0..10000.0, Tt: LinearDensity TEX 1.0..5000.0) -> L: Length M
        = "(w+f)*(1+s/100)+1000*r/Tt"; |[w, f, s, r, t]| (w + f) * (1.0 + s / 100.0) + 1000.0 * r / t; Practice "practice" "spare share and a repair skein";
    /// Fibre before a step that keeps only a share of it.
    BEFORE_STEP "fibre-before-step": (m: Mass G 0.01..10000000.0, k: Ratio PERCENT 1.0..100.0) -> m0: Mass G
        = "100*m/k"; |[m, k]| 100.0 * m / k; Published "sheikh-yield" "blow room, card, draw frame: shares kept multiply";
    /// Fibre after it.
    AFTER_STEP "fibre-after-step": (m: Mass G 0.0..10000000.0, k: Ratio PERCENT 1.0..100.0) -> m1: Mass G
        = "m*k/100"; |[m, k]| m * k / 100.0; Published "sheikh-yield" "blow room, card, draw frame";
    /// Two masses together.
    TOGETHER "together": (a: Mass G 0.0..10000000.0, b: Mass G 0.0..10000000.0) -> m: Mass G
        = "a+b"; |[a, b]| a + b; Identity "identity" "sum";
    /// Share of what is needed that is there.
    ON_HAND_SHARE "on-hand-share": (m: Mass G 0.0..10000000.0, n: Mass G 0.1..10000000.0) -> q: Ratio PERCENT
        = "100*m/n"; |[m, n]| 100.0 * m / n; Identity "identity" "have over need";
    /// Cotton plants for a mass of seed cotton.
    PLANTS "plants": (m: Mass G 0.1..10000000.0, b: Number EACH 0.2..100.0, g: Mass G 0.5..12.0) -> n: Number EACH
        = "ceil(m/(b*g)-0.001)"; |[m, b, g]| (m / (b * g) - 0.001).ceil(); Identity "msu-bolls" "bolls by boll mass";
    /// Seeds to sow for plants that stand.
    SEEDS "seeds": (n: Number EACH 0.0..1000000.0, g: Ratio PERCENT 1.0..100.0) -> s: Number EACH
        = "ceil(100*n/g-0.001)"; |[n, g]| (100.0 * n / g - 0.001).ceil(); Identity "identity" "germination by definition";
    /// Ground for a crop that is counted by the square metre.
    PLOT "plot": (m: Mass G 0.1..10000000.0, y: AreaMass G_M2 1.0..3000.0) -> A: Area M2
        = "m/y"; |[m, y]| m / y; Identity "identity" "yield per area";
    /// Ground for plants at a spacing.
    PLOT_OF_PLANTS "plot-of-plants": (n: Number EACH 0.0..1000000.0, r: Length CM 5.0..300.0, p: Length CM 5.0..300.0) -> A: Area M2
        = "n*r*p/10000"; |[n, r, p]| n * r * p / 10_000.0; Identity "identity" "row by plant spacing";
    /// Fleeces for a mass of grease wool.
    FLEECES "fleeces": (m: Mass G 0.1..10000000.0, f: Mass KG 0.2..12.0) -> n: Number EACH
        = "ceil(m/(1000*f)-0.001)"; |[m, f]| (m / (1000.0 * f) - 0.001).ceil(); Identity "identity" "mass over mass";
    /// Bolls to the foot of row for one bale of 480 lb to the acre.
    BOLLS_PER_FOOT "bolls-per-foot": (w: Length INCH 10.0..60.0, g: Mass G 1.0..10.0, l: Ratio ONE 0.2..0.5) -> b: Ratio ONE
        = "480*453.6/((43560*12/w)*g*l)"; |[w, g, l]| 480.0 * 453.6 / (43_560.0 * 12.0 / w * g * l); Published "msu-bolls" "estimating yield by boll counting";
    /// Feet of row in an acre.
    ROW_FEET "row-feet-per-acre": (w: Length INCH 5.0..100.0) -> f: Ratio ONE
        = "43560*12/w"; |[w]| 43_560.0 * 12.0 / w; Published "msu-bolls" "estimating yield by boll counting";
}
