//! Garment: openings, seams, thread. Drafting itself is geometry and lives in `garment`.

use super::registry::formulas;
use std::f64::consts::PI;

formulas! {
    /// What the head needs of a neck opening, without stretch.
    HEAD_NEEDS "head-needs": (H: Length CM 30.0..75.0, ease: Length CM 0.0..10.0) -> o: Length CM
        = "H+ease"; |[h, e]| h + e; Memory "drafting-texts" "head girth and 20 mm";
    /// Slit that a neck needs to let the head through: both its edges count.
    SLIT "slit": (H: Length CM 30.0..75.0, ease: Length CM 0.0..10.0, o: Length CM 20.0..90.0) -> s: Length CM
        = "(H+ease-o)/2"; |[h, e, o]| (h + e - o) / 2.0; Derived "drafting-texts" "geometry of a slit";
    /// Radius of a round neck.
    NECK_RADIUS "neck-radius": (n: Length CM 20.0..90.0) -> r: Length CM
        = "n/(2*pi)"; |[n]| n / (2.0 * PI); Identity "identity" "circle";
    /// Girth of a garment that lies flat as two panels.
    GIRTH "garment-girth": (b: Length CM 10.0..250.0, ease: Length CM 0.0..80.0) -> g: Length CM
        = "b+ease"; |[b, e]| b + e; Identity "identity" "body and ease";
    /// Height of a sleeve cap by the triangle of armhole and biceps line.
    CAP_HEIGHT "sleeve-cap-height": (A: Length MM 100.0..500.0, B: Length MM 50.0..800.0) -> h: Length MM
        = "sqrt(A*A-(B/2)*(B/2))"; |[a, b]| (a * a - (b / 2.0) * (b / 2.0)).sqrt(); ["B<=2*A", |[a, b]| b <= 2.0 * a]; Published "dresspatternmaking" "understanding the sleeve 3";
    /// Depth of the scye in a block.
    SCYE_DEPTH "scye-depth": (C: Length INCH 20.0..70.0) -> s: Length INCH
        = "C/8+2.5"; |[c]| c / 8.0 + 2.5; Published "artvani" "bodice block";
    /// Quarter width of a block.
    QUARTER_WIDTH "quarter-width": (C: Length INCH 20.0..70.0) -> q: Length INCH
        = "C/4+1.5"; |[c]| c / 4.0 + 1.5; Published "artvani" "bodice block";
    /// Mass of what is worn, without its seams' offcuts.
    MASS_WORN "mass-worn": (A: Area M2 0.001..50.0, m: AreaMass G_M2 5.0..5000.0) -> M: Mass G
        = "A*m"; |[a, m]| a * m; Identity "identity" "area and mass per area";
    /// Share of the cloth that is pieces.
    LAY_USED "lay-used": (A: Area M2 0.001..500.0, w: Length CM 5.0..500.0, L: Length CM 5.0..100000.0) -> u: Ratio PERCENT
        = "100*A*10000/(w*L)"; |[a, w, l]| 100.0 * a * 10_000.0 / (w * l); Identity "identity" "area over area";
    /// Sewing thread for seams by lockstitch.
    THREAD "sewing-thread": (L: Length M 0.01..1000.0, k: Ratio ONE 2.0..4.0) -> t: Length M
        = "L*k"; |[l, k]| l * k; Published "melgeecrafts" "ratio 2.5 for stitch class 301; 2.5 to 2.8 in use";
    /// The least thread a lockstitch can take, seam thickness T and S stitches to the inch, per inch of seam.
    THREAD_LEAST "thread-least": (T: Length INCH 0.001..0.5, S: PerLength PER_IN 3.0..20.0) -> c: Ratio ONE
        = "2+2*T*S"; |[t, s]| 2.0 + 2.0 * t * s; Published "textilecalculations" "stitch class 301";
    /// Strength of a lockstitched seam, thread strength F and S stitches to the inch, per inch.
    SEAM_STRENGTH "seam-strength": (S: PerLength PER_IN 3.0..20.0, F: Force LBF 0.1..50.0, k: Ratio ONE 1.0..2.0) -> p: Force LBF
        = "S*F*k"; |[s, f, k]| s * f * k; Published "learnapparel" "1.5 for 301, 1.7 for 401";
    /// Metric ticket of a sewing thread.
    TICKET "ticket-number": (Tt: LinearDensity TEX 5.0..300.0) -> n: Ratio ONE
        = "3000/Tt"; |[t]| 3000.0 / t; Published "onlineclothingstudy" "2013/01";
}
