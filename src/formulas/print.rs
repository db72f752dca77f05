//! Print: what mesh and cloth can hold, ink, sizes before the wash.

use super::registry::formulas;

formulas! {
    /// Opening of a square mesh.
    MESH_OPENING "mesh-opening": (n: PerLength PER_CM 10.0..200.0, d: Length UM 20.0..120.0) -> w: Length UM
        = "10000/n-d"; |[n, d]| 10_000.0 / n - d; ["n*d<10000", |[n, d]| n * d < 10_000.0]; Identity "identity" "pitch less thread";
    /// Open share of an ideal square mesh.
    MESH_OPEN_AREA "mesh-open-area": (w: Length UM 1.0..500.0, d: Length UM 20.0..120.0) -> a: Ratio PERCENT
        = "100*(w/(w+d))*(w/(w+d))"; |[w, d]| 100.0 * (w / (w + d)) * (w / (w + d)); Identity "identity" "ideal square mesh";
    /// Ink a screen lays, in theory.
    INK_VOLUME "ink-volume": (a: Ratio PERCENT 5.0..70.0, t: Length UM 20.0..250.0) -> v: AreaVolume CM3_M2
        = "a*t/100"; |[a, t]| a / 100.0 * t; Published "mesh-table" "90-40 and 90-48 rows";
    /// Thickness of the screen's fabric, a little under two threads.
    MESH_THICKNESS "mesh-thickness": (d: Length UM 20.0..120.0, k: Ratio ONE 1.3..2.0) -> t: Length UM
        = "k*d"; |[d, k]| k * d; Published "screenweb-2009" "p. 4: less than two threads";
    /// Finest line a mesh holds.
    LINE_OF_MESH "line-of-mesh": (d: Length UM 20.0..120.0, w: Length UM 1.0..500.0) -> l: Length UM
        = "2*d+w"; |[d, w]| 2.0 * d + w; Practice "practice" "two threads and an opening";
    /// Finest line a cloth holds: k of its widest thread spacings.
    LINE_OF_CLOTH "line-of-cloth": (k: Ratio ONE 0.5..4.0, p1: Length MM 0.03..30.0, p2: Length MM 0.03..30.0) -> l: Length MM
        = "k*max(p1, p2)"; |[k, a, b]| k * a.max(b); Practice "practice" "one and a half spacings; a test strip replaces it";
    /// The coarser of the two.
    SMALLEST_LINE "smallest-line": (a: Length MM 0.01..50.0, b: Length MM 0.01..50.0) -> l: Length MM
        = "max(a, b)"; |[a, b]| a.max(b); Identity "identity" "both must hold";
    /// Finest gap: a line and what the ink spreads from both sides.
    SMALLEST_GAP "smallest-gap": (l: Length MM 0.01..50.0, g: Length MM 0.0..3.0) -> n: Length MM
        = "l+2*g"; |[l, g]| l + 2.0 * g; Practice "practice" "gain 0.15 mm a side; a test strip replaces it";
    /// Smallest dot.
    SMALLEST_DOT "smallest-dot": (k: Ratio ONE 0.5..6.0, p1: Length MM 0.03..30.0, p2: Length MM 0.03..30.0) -> d: Length MM
        = "k*max(p1, p2)"; |[k, a, b]| k * a.max(b); Practice "practice" "two spacings; a test strip replaces it";
    /// Artwork's size on the film for a size wanted after the wash.
    BEFORE_WASH "artwork-before-wash": (w: Length CM 0.1..300.0, s: Ratio PERCENT -5.0..60.0) -> w0: Length CM
        = "w/(1-s/100)"; |[w, s]| w / (1.0 - s / 100.0); Published "cnch-2016" "division for a loss";
    /// Ink for a print.
    INK_MASS "ink-mass": (V: AreaVolume CM3_M2 1.0..200.0, A: Area M2 0.0001..5.0, c: Ratio ONE 0.01..1.0, rho: Density G_CM3 0.8..1.6, k: Ratio ONE 1.0..5.0) -> m: Mass G
        = "V*A*c*rho*k"; |[v, a, c, r, k]| v * a * c * r * k; Derived "mesh-table" "volume, area, cover, density, take and waste";
    /// Ink for all prints.
    INK_FOR_ALL "ink-for-all": (n: Number EACH 1.0..1000.0, m: Mass G 0.0..10000.0) -> M: Mass G
        = "n*m"; |[n, m]| n * m; Identity "identity" "sum";
    /// Height of a picture of that width and shape.
    PICTURE_HEIGHT "picture-height": (w: Length CM 0.1..300.0, q: Ratio ONE 0.02..50.0) -> h: Length CM
        = "w*q"; |[w, q]| w * q; Identity "identity" "height over width q";
    /// Area of a picture of that width and height.
    PICTURE_AREA "picture-area": (w: Length CM 0.1..300.0, h: Length CM 0.1..300.0) -> A: Area M2
        = "w*h/10000"; |[w, h]| w * h / 10_000.0; Identity "identity" "width by height";
    /// A line or gap of the artwork at the size it is printed.
    ARTWORK_LINE "artwork-line": (q: Ratio PERCENT 0.001..100.0, w: Length CM 0.1..300.0) -> l: Length MM
        = "q*w/10"; |[q, w]| q * w / 10.0; Identity "identity" "a share of the width";
    /// Line ruling that a mesh carries.
    RULING "ruling-from-mesh": (n: PerLength PER_CM 10.0..200.0, k: Ratio ONE 2.0..6.0) -> r: PerLength PER_CM
        = "n/k"; |[n, k]| n / k; Published "mesh-faq" "ratios 2.5, 3.75, 5.0";
    /// Ruling along the mesh of dots that stand at 45 degrees.
    RULING_AT_45 "ruling-at-45": (r: PerLength PER_IN 10.0..200.0) -> r2: PerLength PER_IN
        = "r/sqrt(2)"; |[r]| r / std::f64::consts::SQRT_2; Published "coudray-2003" "65 lines along the thread";
    /// Density of a tint, solid density D.
    TINT_DENSITY "tint-density": (a: Ratio ONE 0.0..1.0, D: Ratio ONE 0.1..3.0) -> Dt: Ratio ONE
        = "log10(1/(1-a*(1-10^(-D))))"; |[a, d]| libm::log10(1.0 / (1.0 - a * (1.0 - libm::pow(10.0, -d)))); Published "murray-davies-1936" "tint of a solid";
    /// Dot area back from densities, n is 1 (Murray-Davies) or more.
    DOT_AREA "dot-area": (Dt: Ratio ONE 0.01..3.0, D: Ratio ONE 0.1..3.0, n: Ratio ONE 1.0..4.0) -> a: Ratio PERCENT
        = "100*(1-10^(-Dt/n))/(1-10^(-D/n))"; |[t, d, n]| 100.0 * (1.0 - libm::pow(10.0, -t / n)) / (1.0 - libm::pow(10.0, -d / n)); Published "yule-nielsen-1951" "n = 1 is Murray-Davies";
}
