//! Cloth: sett, crimp, cover, mass. Four states are kept apart: in the reed, on the loom under tension, off the loom, and finished
//! (washed, dry, flat).

use super::registry::{Evidence, Solve, Source, formulas};
use std::f64::consts::PI;

/// The weft as laid must just span the narrowed cloth: i crossings by Peirce and the rest straight, of n ends.
pub static CRIMP_IN_REED: Solve = Solve {
    name: "crimp-in-reed",
    says: "The weft laid between the ends in the reed is the weft that bends round them off the loom.",
    residual: "i*(D*t+(h-D*(1-cos(t)))/sin(t)) + (n-i)*((h-D*(1-cos(t)))*cos(t)/sin(t)+D*sin(t)) - n*(1+b)*10/s",
    letters: &[("i", ""), ("n", ""), ("D", "mm"), ("h", "mm"), ("b", ""), ("s", "/cm"), ("t", "rad")],
    tolerance: 1e-12,
    source: Source { key: "peirce-1937", at: "equations for p and h, one yarn length kept from reed to cloth" },
    evidence: Evidence::Derived,
};

formulas! {
    /// Sum of the two diameters, the height that warp and weft share.
    DIAMETER_SUM "diameter-sum": (d1: Length MM 0.02..5.0, d2: Length MM 0.02..5.0) -> D: Length MM
        = "d1+d2"; |[a, b]| a + b; Identity "identity" "Peirce's D";
    /// Closest sett that diameters and crossings allow, n ends a repeat with i crossings of the weft.
    GREATEST_SETT "greatest-sett": (n: Number EACH 1.0..1000.0, i: Number EACH 1.0..1000.0, d1: Length MM 0.02..5.0, d2: Length MM 0.02..5.0) -> S: PerLength PER_CM
        = "10*n/(n*d1+i*d2)"; |[n, i, d1, d2]| 10.0 * n / (n * d1 + i * d2); Published "taylor-1909" "p. 464; faena, diameters x ends over ends and crossings";
    /// A second opinion on the closest sett of a square cotton cloth, from the mean float.
    BRIERLEY "brierley-sett": (K: Ratio ONE 50.0..300.0, count: LinearDensity NE 0.3..300.0, F: Ratio ONE 1.0..8.0, m: Ratio ONE 0.2..0.6) -> S: PerLength PER_IN
        = "sqrt(K*count)*F^m"; |[k, ne, f, m]| (k * ne).sqrt() * libm::pow(f, m); Memory "brierley" "K 200 and m 0.39 for cotton twill: gate 2006 Q66";
    /// Sett as a share of the closest.
    SETT_FROM_FIRMNESS "sett-from-firmness": (S: PerLength PER_CM 0.3..300.0, f: Ratio ONE 0.05..1.2) -> s: PerLength PER_CM
        = "S*f"; |[s, f]| s * f; Published "faena" "three quarters of the greatest";
    /// How near the closest a sett is.
    FIRMNESS "firmness": (s: PerLength PER_CM 0.3..300.0, S: PerLength PER_CM 0.3..300.0) -> f: Ratio PERCENT
        = "100*s/S"; |[s, g]| 100.0 * s / g; Identity "identity" "sett over greatest sett";
    /// Room from thread to thread.
    SPACING "spacing": (s: PerLength PER_CM 0.3..300.0) -> p: Length MM
        = "10/s"; |[s]| 10.0 / s; Identity "identity" "";
    /// The warp's part of the shared height.
    CRIMP_HEIGHT "crimp-height": (D: Length MM 0.02..10.0, b: Ratio ONE 0.0..1.0) -> h: Length MM
        = "D*b"; |[d, b]| d * b; Identity "peirce-1937" "h1 + h2 = D, b its share";
    /// What is left of it for the weft.
    OTHER_HEIGHT "other-height": (D: Length MM 0.02..10.0, h: Length MM 0.0..10.0) -> h2: Length MM
        = "D-h"; |[d, h]| d - h; Published "peirce-1937" "h1 + h2 = D";
    /// Slope of a thread where it crosses, in closed form.
    WEAVE_ANGLE "weave-angle": (D: Length MM 0.04..10.0, p: Length MM 0.03..30.0, h: Length MM 0.01..9.0) -> t: Angle RAD
        = "atan2(D, sqrt(max(p*p+h*h-2*D*h, 0))) - atan2(D-h, p)";
        |[d, p, h]| libm::atan2(d, (p * p + h * h - 2.0 * d * h).max(0.0).sqrt()) - libm::atan2(d - h, p); Derived "peirce-1937" "equations for p and h with l eliminated";
    /// How far from jammed, in squares of the shared height: below 0 the threads have no room to cross.
    ROOM "room-to-cross": (D: Length MM 0.04..10.0, p: Length MM 0.03..30.0, h: Length MM 0.01..9.0) -> r: Ratio ONE
        = "(p*p+h*h-2*D*h)/(D*D)"; |[d, p, h]| (p * p + h * h - 2.0 * d * h) / (d * d); Derived "peirce-1937" "the straight part is 0";
    /// Spacing that a crossing thread of that height takes when its angle is known.
    SPACING_AT_ANGLE "spacing-at-angle": (D: Length MM 0.04..10.0, h: Length MM 0.01..9.0, t: Angle RAD 0.01..1.2) -> p: Length MM
        = "(h-D*(1-cos(t)))*cos(t)/sin(t)+D*sin(t)";
        |[d, h, t]| { let (s, c) = (libm::sin(t), libm::cos(t)); (h - d * (1.0 - c)) * c / s + d * s }; Published "peirce-1937" "equation for p, with the one for h";
    /// Slope of a thread whose straight part is used up.
    JAM_ANGLE "jam-angle": (D: Length MM 0.04..10.0, h: Length MM 0.01..10.0) -> t: Angle RAD
        = "acos(1-h/D)"; |[d, h]| libm::acos(1.0 - h / d); ["h<=D", |[d, h]| h <= d]; Derived "peirce-1937" "the straight part is 0";
    /// Weft between the ends in the reed over the least that can cross there, less one: below 0 the ends stand too close.
    ROOM_IN_REED "room-in-reed": (n: Number EACH 2.0..100.0, i: Number EACH 1.0..100.0, D: Length MM 0.04..10.0, h: Length MM 0.01..10.0, b: Ratio PERCENT 0.0..20.0, s: PerLength PER_CM 0.3..300.0) -> r: Ratio ONE
        = "10*n*(1+b/100)/(s*(i*D*acos(1-h/D)+(n-i)*D*sin(acos(1-h/D))))-1";
        |[n, i, d, h, b, s]| { let t = libm::acos(1.0 - h / d); n * (1.0 + b / 100.0) * 10.0 / s / (i * d * t + (n - i) * d * libm::sin(t)) - 1.0 };
        ["h<=D and i<=n", |[n, i, d, h, _, _]| h <= d && i <= n]; Derived "peirce-1937" "the straight part is 0, floats straight";
    /// Threads to the centimetre from their room.
    SETT_FROM_SPACING "sett-from-spacing": (p: Length MM 0.03..30.0) -> s: PerLength PER_CM
        = "10/p"; |[p]| 10.0 / p; Identity "identity" "";
    /// Length of one repeat of the colours.
    STRIPES "stripe-repeat": (n: Number EACH 1.0..100000.0, s: PerLength PER_CM 0.3..300.0) -> r: Length CM
        = "n/s"; |[n, s]| n / s; Identity "identity" "threads over threads per length";
    /// Mean float: threads a crossing.
    AVERAGE_FLOAT "average-float": (n: Number EACH 1.0..1000.0, i: Number EACH 1.0..1000.0) -> F: Ratio ONE
        = "n/i"; |[n, i]| n / i; Identity "brierley" "ends per repeat over crossings";
    /// Crossings to the length.
    CROSSINGS "crossings-per-length": (s: PerLength PER_CM 0.3..300.0, i: Number EACH 1.0..1000.0, n: Number EACH 1.0..1000.0) -> x: PerLength PER_CM
        = "s*i/n"; |[s, i, n]| s * i / n; Identity "taylor-1909" "intersections per inch";
    /// Thread length of one crossing over its spacing, less one.
    CRIMP "crimp": (D: Length MM 0.04..10.0, p: Length MM 0.03..30.0, t: Angle RAD 0.0..1.05) -> c: Ratio ONE
        = "((p-D*sin(t))/cos(t)+D*t)/p-1";
        |[d, p, t]| ((p - d * libm::sin(t)) / libm::cos(t) + d * t) / p - 1.0; Published "peirce-1937" "l = p(1+c)";
    /// Crimp of a weave that floats: only its crossings bend.
    CRIMP_OF_WEAVE "crimp-of-weave": (c: Ratio ONE 0.0..1.0, i: Number EACH 1.0..1000.0, n: Number EACH 1.0..1000.0) -> cw: Ratio PERCENT
        = "100*c*i/n"; |[c, i, n]| 100.0 * c * i / n; Derived "peirce-1937" "per crossing, floats straight";
    /// Peirce's quick rule for the height of a crimp; 1.5 to 5 % low.
    CRIMP_HEIGHT_RULE "crimp-height-rule": (p: Length MM 0.03..30.0, c: Ratio ONE 0.0..0.6) -> h: Length MM
        = "(4/3)*p*sqrt(c)"; |[p, c]| 4.0 / 3.0 * p * c.sqrt(); Published "peirce-1937" "approximation; gate 2008 Q72";
    /// The same rule turned round.
    CRIMP_FROM_HEIGHT "crimp-from-height": (h: Length MM 0.0..9.0, p: Length MM 0.03..30.0) -> c: Ratio ONE
        = "(0.75*h/p)*(0.75*h/p)"; |[h, p]| (0.75 * h / p) * (0.75 * h / p); Published "peirce-1937" "approximation; gate 2007 Q85";
    /// Part of a thread's length that bending takes.
    LOST_TO_CRIMP "lost-to-crimp": (c: Ratio PERCENT 0.0..100.0) -> a: Ratio PERCENT
        = "100*c/(100+c)"; |[c]| 100.0 * c / (100.0 + c); Published "iit-numerical" "Q1, 8 % and 7.41 %";
    /// Narrowing of the cloth against the reed.
    DRAW_IN "draw-in": (s: PerLength PER_CM 0.3..300.0, p: Length MM 0.03..30.0) -> a: Ratio PERCENT
        = "100*(1-s*p/10)"; |[s, p]| 100.0 * (1.0 - s * p / 10.0); Identity "identity" "spacing off the loom over spacing in the reed";
    /// Threads stand closer by what the cloth lost.
    CLOSER "closer": (s: PerLength PER_CM 0.3..300.0, a: Ratio PERCENT -20.0..70.0) -> s2: PerLength PER_CM
        = "s/(1-a/100)"; |[s, a]| s / (1.0 - a / 100.0); Published "textileadvisor" "2019/05, turned round";
    /// Threads stand further apart by what tension stretches.
    WIDER "wider": (s: PerLength PER_CM 0.3..300.0, a: Ratio PERCENT -20.0..70.0) -> s2: PerLength PER_CM
        = "s*(1-a/100)"; |[s, a]| s * (1.0 - a / 100.0); Published "textileadvisor" "2019/05";
    /// Taylor's rule for warp take-up of fine cotton, Ne 30 to 100 only: n crossings to the inch, k 4 for heavy and 3 for medium cloth.
    TAYLOR_TAKE_UP "take-up-taylor": (k: Ratio ONE 2.0..5.0, n: PerLength PER_IN 10.0..300.0, count: LinearDensity NE 30.0..100.0) -> a: Ratio PERCENT
        = "k*n/count"; |[k, n, ne]| k * n / ne; Published "taylor-1909" "pp. 427-429";
    /// Mass of cloth from its threads.
    MASS "cloth-mass": (n1: PerLength PER_CM 0.3..300.0, T1: LinearDensity TEX 1.0..5000.0, c1: Ratio PERCENT 0.0..100.0, n2: PerLength PER_CM 0.3..300.0, T2: LinearDensity TEX 1.0..5000.0, c2: Ratio PERCENT 0.0..100.0) -> m: AreaMass G_M2
        = "0.1*(n1*T1*(1+c1/100)+n2*T2*(1+c2/100))";
        |[a, b, c, d, e, f]| 0.1 * (a * b * (1.0 + c / 100.0) + d * e * (1.0 + f / 100.0)); Published "gate" "2009 Q37";
    /// Mass after the wash: the area shrinks, the fibre stays, less what washes out.
    MASS_AFTER_WASH "mass-after-wash": (m: AreaMass G_M2 5.0..5000.0, sw: Ratio PERCENT -5.0..60.0, sl: Ratio PERCENT -5.0..60.0, k: Ratio PERCENT 50.0..100.0) -> mf: AreaMass G_M2
        = "(m*k/100)/((1-sw/100)*(1-sl/100))"; |[m, w, l, k]| m * k / 100.0 / ((1.0 - w / 100.0) * (1.0 - l / 100.0)); Identity "identity" "mass over area";
    /// Mass in ounces per square yard.
    MASS_OUNCES "cloth-mass-ounces": (n1: PerLength PER_IN 1.0..300.0, N1: LinearDensity NE 0.3..300.0, c1: Ratio ONE 0.0..1.0, n2: PerLength PER_IN 1.0..300.0, N2: LinearDensity NE 0.3..300.0, c2: Ratio ONE 0.0..1.0) -> m: AreaMass OZ_YD2
        = "0.6857*(n1*(1+c1)/N1+n2*(1+c2)/N2)"; |[a, b, c, d, e, f]| 0.6857 * (a * (1.0 + c) / b + d * (1.0 + f) / e); Published "balasubramanian" "cloth weight";
    /// Cover factor of one set of threads, by the Ne-inch convention: 28 is touching.
    COVER_FACTOR "cover-factor": (n: PerLength PER_IN 1.0..700.0, count: LinearDensity NE 0.3..300.0) -> K: Ratio ONE
        = "n/sqrt(count)"; |[n, ne]| n / ne.sqrt(); Published "iit-numerical" "Q3";
    /// Cover factor of the cloth.
    CLOTH_COVER_FACTOR "cloth-cover-factor": (K1: Ratio ONE 0.1..40.0, K2: Ratio ONE 0.1..40.0) -> Kc: Ratio ONE
        = "K1+K2-K1*K2/28"; |[a, b]| a + b - a * b / 28.0; Published "balasubramanian" "cloth cover; gate 2007 Q85";
    /// Share of a cloth that its threads cover, from its cover factor.
    COVER_OF_FACTOR "cover-from-factor": (Kc: Ratio ONE 0.1..28.0) -> c: Ratio PERCENT
        = "100*Kc/28"; |[k]| 100.0 * k / 28.0; Published "balasubramanian" "28 is touching; gate 2007 Q85";
    /// Share of a cloth that light passes through.
    OPEN_AREA "open-area": (d1: Length MM 0.02..5.0, p1: Length MM 0.03..30.0, d2: Length MM 0.02..5.0, p2: Length MM 0.03..30.0) -> o: Ratio PERCENT
        = "100*max(1-d1/p1, 0)*max(1-d2/p2, 0)"; |[d1, p1, d2, p2]| 100.0 * (1.0 - d1 / p1).max(0.0) * (1.0 - d2 / p2).max(0.0); Published "gate" "2011 Q45 with round yarn";
    /// The rest of it.
    COVER "cover": (o: Ratio PERCENT 0.0..100.0) -> c: Ratio PERCENT
        = "100-o"; |[o]| 100.0 - o; Identity "identity" "";
    /// Cover with flattened yarn, f its height over its round diameter.
    FLAT_COVER "cover-flattened": (d1: Length MM 0.02..5.0, s1: Length MM 0.03..30.0, d2: Length MM 0.02..5.0, s2: Length MM 0.03..30.0, f: Ratio ONE 0.3..1.0) -> e: Ratio ONE
        = "d1/(f*s1)+d2/(f*s2)-d1*d2/(f*f*s1*s2)"; |[d1, s1, d2, s2, f]| d1 / (f * s1) + d2 / (f * s2) - d1 * d2 / (f * f * s1 * s2); Published "gate" "2011 Q45";
    /// Thickness: the higher of the two bends with its thread; the loft is what handling puts between.
    THICKNESS "thickness": (h1: Length MM 0.0..9.0, d1: Length MM 0.02..5.0, h2: Length MM 0.0..9.0, d2: Length MM 0.02..5.0, q: Ratio ONE 0.6..2.0) -> t: Length MM
        = "max(h1+d1, h2+d2)*q"; |[h1, d1, h2, d2, q]| (h1 + d1).max(h2 + d2) * q; Published "peirce-1937" "thickness is the greater of h+d";
    /// Crimp that the cloth would have if the wash kept every thread's length.
    CRIMP_IF_KEPT "crimp-if-yarn-kept": (c: Ratio PERCENT 0.0..100.0, s: Ratio PERCENT -5.0..60.0) -> c2: Ratio ONE
        = "(1+c/100)/(1-s/100)-1"; |[c, s]| (1.0 + c / 100.0) / (1.0 - s / 100.0) - 1.0; Identity "identity" "same thread in less cloth";
    /// The height that crimp would need, over the height there is: far above 1 the yarn itself has shrunk or swollen.
    WASH_HEIGHT "wash-height": (h1: Length MM 0.0..9.0, h2: Length MM 0.0..9.0, D: Length MM 0.02..10.0) -> q: Ratio ONE
        = "(h1+h2)/D"; |[a, b, d]| (a + b) / d; Derived "peirce-1937" "h1 + h2 = D with the quick rule for h";
    /// Average yarn number of a cloth from its weight and threads, no crimp counted.
    AVERAGE_NUMBER "average-yarn-number": (T: Ratio ONE 10.0..800.0, Z: AreaMass OZ_YD2 0.5..40.0) -> N: LinearDensity NE
        = "24*T/(35*Z)"; |[t, z]| 24.0 * t / (35.0 * z); Published "us-tariff" "schedule 3 part 3 headnote 1(b)";
    /// Equal firmness in another weave: sett from plain to twill by ends and crossings.
    SAME_FIRMNESS "sett-same-firmness": (s: PerLength PER_IN 1.0..400.0, n1: Number EACH 1.0..100.0, i1: Number EACH 1.0..100.0, n2: Number EACH 1.0..100.0, i2: Number EACH 1.0..100.0) -> s2: PerLength PER_IN
        = "s*((n1+i1)/n1)*(n2/(n2+i2))"; |[s, n1, i1, n2, i2]| s * ((n1 + i1) / n1) * (n2 / (n2 + i2)); Published "taylor-1909" "p. 464";
    /// The jam of both sets at once: zero when both are jammed.
    BOTH_JAMMED "both-jammed": (p1: Length MM 0.03..20.0, p2: Length MM 0.03..20.0, D: Length MM 0.04..10.0) -> r: Ratio ONE
        = "sqrt(1-(p1/D)*(p1/D))+sqrt(1-(p2/D)*(p2/D))-1"; |[p1, p2, d]| (1.0 - (p1 / d) * (p1 / d)).sqrt() + (1.0 - (p2 / d) * (p2 / d)).sqrt() - 1.0;
        ["max(p1, p2)<=D", |[p1, p2, d]| p1.max(p2) <= d]; Memory "peirce-1937" "jamming of both";
    /// Thread length of one crossing at the jam, over the shared height.
    JAMMED_LENGTH "jammed-length": (t: Angle DEG 1.0..90.0) -> q: Ratio ONE
        = "t*pi/180"; |[t]| t * PI / 180.0; Published "balasubramanian" "l = D theta where no part is straight";
    /// Crimp from a thread measured in the cloth and pulled straight out of it.
    CRIMP_FROM_LENGTHS "crimp-from-lengths": (y: Length CM 0.1..1000000.0, l: Length CM 0.1..1000000.0) -> c: Ratio PERCENT
        = "100*(y-l)/l"; |[y, l]| 100.0 * (y - l) / l; Published "iit-numerical" "Q1";
    /// Share lost, from a length before and after: take-up, draw-in, shrinkage.
    LOSS_FROM_LENGTHS "loss-from-lengths": (L0: Length CM 0.1..1000000.0, L1: Length CM 0.1..1000000.0) -> a: Ratio PERCENT
        = "100*(L0-L1)/L0"; |[a, b]| 100.0 * (a - b) / a; Published "cnch-2016" "10 in to 8 in is 20 %";
    /// Thread length of one crossing over the shared height; jammed where it is the angle of the thread in radians.
    LENGTH_OVER_HEIGHT "length-over-height": (p: Length MM 0.03..30.0, c: Ratio ONE 0.0..1.0, D: Length MM 0.04..10.0) -> q: Ratio ONE
        = "p*(1+c)/D"; |[p, c, d]| p * (1.0 + c) / d; Published "gate" "2008 Q71";
    /// Mass per area of a piece that was weighed and measured.
    MASS_OF_PIECE "mass-of-piece": (M: Mass G 0.1..1000000.0, w: Length CM 0.5..1000.0, L: Length CM 0.5..1000000.0) -> m: AreaMass G_M2
        = "10000*M/(w*L)"; |[m, w, l]| 10_000.0 * m / (w * l); Identity "identity" "mass over area";
    /// Length after a stretch.
    STRETCHED "stretched": (L: Length CM 0.1..1000000.0, s: Ratio PERCENT -20.0..60.0) -> L1: Length CM
        = "L*(1+s/100)"; |[l, s]| l * (1.0 + s / 100.0); Published "gate" "2010 Q34";
}
