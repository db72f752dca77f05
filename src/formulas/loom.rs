//! Loom: heddle, tension, beams, shed, ratchet, roll.

use super::registry::formulas;
use std::f64::consts::PI;

formulas! {
    /// Pitch of one heddle, a slot and an eye, when h heddles stand together.
    HEDDLE_PITCH "heddle-pitch": (s: PerLength PER_CM 0.3..100.0, h: Number EACH 1.0..4.0) -> p: Length MM
        = "20*h/s"; |[s, h]| 20.0 * h / s; Derived "counting" "a slot and an eye carry two ends; h heddles share them";
    /// Sett that heddles of a pitch give.
    SETT_OF_HEDDLE "sett-of-heddle": (p: Length MM 0.2..100.0, h: Number EACH 1.0..4.0) -> s: PerLength PER_CM
        = "20*h/p"; |[p, h]| 20.0 * h / p; Derived "counting" "the same turned round";
    /// Slot between two blades.
    HEDDLE_GAP "heddle-gap": (p: Length MM 0.2..100.0, b: Length MM 0.1..50.0) -> g: Length MM
        = "p-b"; |[p, b]| p - b; Identity "identity" "pitch less blade";
    /// Threads that a slot must pass: with two heddles, the other's eye thread and two free ones.
    THREADS_PER_SLOT "threads-per-slot": (h: Number EACH 1.0..4.0) -> m: Number EACH
        = "2*h-1"; |[h]| 2.0 * h - 1.0; Derived "counting" "2h ends a pitch, one of them in the eye";
    /// Room in the slot, in yarn diameters a thread.
    SLOT_ROOM "slot-room": (g: Length MM 0.0..50.0, m: Number EACH 1.0..8.0, d: Length MM 0.02..5.0) -> q: Ratio ONE
        = "g/(m*d)"; |[g, m, d]| g / (m * d); Identity "identity" "gap over threads";
    /// Room in the eye, in yarn diameters.
    EYE_ROOM "eye-room": (o: Length MM 0.0..20.0, d: Length MM 0.02..5.0) -> q: Ratio ONE
        = "o/d"; |[e, d]| e / d; Identity "identity" "eye over thread";
    /// Material beside the eye.
    WALL "heddle-wall": (b: Length MM 0.1..50.0, o: Length MM 0.0..20.0) -> w: Length MM
        = "(b-o)/2"; |[b, e]| (b - e) / 2.0; Identity "identity" "half of what the eye leaves";
    /// Closest sett of h heddles with blade b and k diameters of slot a thread.
    GREATEST_OF_HEDDLE "greatest-sett-of-heddle": (h: Number EACH 1.0..4.0, b: Length MM 0.1..50.0, k: Ratio ONE 1.0..2.0, d: Length MM 0.02..5.0) -> s: PerLength PER_CM
        = "20*h/(b+(2*h-1)*k*d)"; |[h, b, k, d]| 20.0 * h / (b + (2.0 * h - 1.0) * k * d); Derived "counting" "pitch is blade and slot";
    /// Eyes in one heddle.
    EYES "eyes": (n: Number EACH 2.0..20000.0, h: Number EACH 1.0..4.0) -> e: Number EACH
        = "ceil(n/(2*h)-0.001)"; |[n, h]| (n / (2.0 * h) - 0.001).ceil(); Derived "counting" "one end in 2h sits in this heddle's eyes";
    /// Slots in one heddle: one beside each eye, and one more at the edge.
    SLOTS "slots": (k: Number EACH 1.0..20000.0) -> n: Number EACH
        = "k+1"; |[e]| e + 1.0; Derived "counting" "slots stand on both sides of the eyes";
    /// Eyes of all heddles, lifted together in plain weave.
    EYES_LIFTED "eyes-lifted": (k: Number EACH 1.0..20000.0, h: Number EACH 1.0..4.0) -> n: Number EACH
        = "k*h"; |[e, h]| e * h; Derived "counting" "heddles move together";
    /// A distance from the fell after some cloth is woven.
    NEARER "nearer-the-fell": (x: Length MM 20.0..2000.0, w: Length MM 0.0..20.0) -> y: Length MM
        = "x-w"; |[x, w]| x - w; Identity "identity" "the fell comes nearer";
    /// Peak of the whole warp's tension.
    PEAK_TENSION "peak-tension": (F: Force N 0.1..20000.0, k: Ratio ONE 1.0..5.0) -> P: Force N
        = "F*k"; |[f, k]| f * k; Practice "practice" "peaks two to three times the mean";
    /// Mean tension of an end: a load per tex, but no more than a share of what breaks it.
    TENSION_PER_END "tension-per-end": (Tt: LinearDensity TEX 1.0..5000.0, q: Tenacity CN_TEX 0.05..2.0, F: Force CN 1.0..100000.0, k: Ratio PERCENT 1.0..30.0) -> T: Force CN
        = "min(q*Tt, (k/100)*F)"; |[t, q, f, k]| (q * t).min(k / 100.0 * f); Practice "practice" "0.5 cN/tex and 6 % of break; no published hand-loom tension";
    /// Mean tension of an end as the weaver sets it.
    STATED_TENSION "stated-tension": (T: Force CN 0.1..10000.0) -> Te: Force CN
        = "T"; |[t]| t; Identity "identity" "as stated";
    /// Tension of the whole warp.
    WARP_TENSION "warp-tension": (n: Number EACH 1.0..20000.0, T: Force CN 0.1..10000.0) -> F: Force N
        = "n*T/100"; |[n, t]| n * t / 100.0; Derived "statics" "sum over the ends";
    /// Stretch of an end at a load, on a straight line to its break.
    STRAIN_AT_LOAD "strain-at-load": (T: Force CN 0.1..10000.0, F: Force CN 1.0..100000.0, eb: Ratio PERCENT 0.5..60.0) -> s: Ratio PERCENT
        = "eb*T/F"; |[t, f, e]| t / f * e; Derived "morton-hearle" "Table 13.1 breaking extension, straight line";
    /// Second moment of a round bar or tube.
    ROUND_SECOND_MOMENT "round-second-moment": (D: Length MM 1.0..500.0, d: Length MM 0.0..500.0) -> I: SecondMoment MM4
        = "pi*(D*D*D*D-d*d*d*d)/64"; |[a, b]| PI * (a * a * a * a - b * b * b * b) / 64.0; ["d<D", |[a, b]| b < a]; Memory "roark" "sections";
    /// Second moment of a rectangle, b wide and h high.
    RECTANGLE_SECOND_MOMENT "rectangle-second-moment": (b: Length MM 1.0..500.0, h: Length MM 1.0..500.0) -> I: SecondMoment MM4
        = "b*h*h*h/12"; |[b, h]| b * h * h * h / 12.0; Published "timber-beam-page" "second moment of a rectangle";
    /// Section modulus from the second moment.
    SECTION_MODULUS "section-modulus": (I: SecondMoment MM4 1.0..1000000000.0, h: Length MM 1.0..500.0) -> Z: SectionModulus MM3
        = "2*I/h"; |[i, h]| 2.0 * i / h; Published "timber-beam-page" "section modulus";
    /// Bow of a beam of span S under a load spread over its middle width W.
    BEAM_DEFLECTION "beam-deflection": (F: Force N 0.1..20000.0, S: Length MM 50.0..12000.0, W: Length MM 0.0..12000.0, E: Stress GPA 1.0..220.0, I: SecondMoment MM4 100.0..100000000.0) -> y: Length MM
        = "F*(8*S*S*S-4*S*W*W+W*W*W)/(384*E*1000*I)";
        |[f, s, w, e, i]| f * (8.0 * s * s * s - 4.0 * s * w * w + w * w * w) / (384.0 * e * 1000.0 * i);
        ["W<=S", |[_, s, w, _, _]| w <= s]; Memory "roark" "table 8, partial uniform load; W = S and W = 0 are the usual cases";
    /// Bending stress of the same beam.
    BEAM_STRESS "beam-stress": (F: Force N 0.1..20000.0, S: Length MM 50.0..12000.0, W: Length MM 0.0..12000.0, Z: SectionModulus MM3 10.0..10000000.0) -> f: Stress MPA
        = "F*(2*S-W)/(8*Z)"; |[f, s, w, z]| f * (2.0 * s - w) / (8.0 * z);
        ["W<=S", |[_, s, w, _]| w <= s]; Memory "roark" "table 8, partial uniform load";
    /// Bow a beam may have: half of what the warp's own stretch can even out.
    BOW_ALLOWED "bow-allowed": (s: Ratio PERCENT 0.001..20.0, a: Length MM 20.0..2000.0, b: Length MM 20.0..3000.0) -> y: Length MM
        = "0.5*(s/100)*(a+b)"; |[s, a, b]| 0.5 * s / 100.0 * (a + b); Derived "practice" "middle ends must not lose more than half their stretch";
    /// Load of a bar the warp turns over by an angle.
    BAR_LOAD "bar-load": (F: Force N 0.1..20000.0, w: Angle DEG 0.0..180.0) -> P: Force N
        = "2*F*sin(w*pi/360)"; |[f, w]| 2.0 * f * libm::sin(w * PI / 360.0); Derived "statics" "two pulls at an angle";
    /// Stretch that lifting an end makes.
    SHED_STRAIN "shed-strain": (a: Length MM 20.0..2000.0, b: Length MM 20.0..3000.0, h: Length MM 0.0..150.0) -> e: Ratio PERCENT
        = "100*(sqrt(a*a+h*h)+sqrt(b*b+h*h)-(a+b))/(a+b)";
        |[a, b, h]| { let more = |x: f64| h * h / ((x * x + h * h).sqrt() + x); 100.0 * (more(a) + more(b)) / (a + b) }; Derived "statics" "triangle; h*h/(2ab) in marks-robinson";
    /// Where the shuttle's edge towards the fell runs, from the fell.
    SHUTTLE_EDGE "shuttle-edge": (a: Length MM 20.0..2000.0, w: Length MM 2.0..100.0, c: Length MM 0.0..50.0) -> x: Length MM
        = "a-w-c"; |[a, w, c]| a - w - c; Identity "identity" "depth less shuttle less clearance";
    /// Opening of the shed there; slot ends stay, eye ends move by h.
    SHED_OPENING "shed-opening": (h: Length MM 1.0..150.0, x: Length MM 1.0..2000.0, a: Length MM 20.0..2000.0) -> s: Length MM
        = "h*x/a"; |[h, x, a]| h * x / a; Derived "statics" "similar triangles, one-sided lift";
    /// Load that a stretch adds, on a straight line to the break.
    LOAD_OF_STRAIN "load-of-strain": (s: Ratio PERCENT 0.0..60.0, F: Force CN 1.0..100000.0, eb: Ratio PERCENT 0.5..60.0) -> T: Force CN
        = "F*s/eb"; |[e, f, b]| e / b * f; Derived "morton-hearle" "Table 13.1 breaking extension, straight line";
    /// Peak load of an end.
    PEAK_LOAD "peak-load": (T: Force CN 0.0..10000.0, dT: Force CN 0.0..10000.0) -> P: Force CN
        = "T+dT"; |[t, d]| t + d; Derived "statics" "sum";
    /// A load as a share of what breaks.
    SHARE_OF_BREAK "share-of-break": (T: Force CN 0.0..100000.0, F: Force CN 1.0..100000.0) -> q: Ratio PERCENT
        = "100*T/F"; |[t, f]| 100.0 * t / f; Identity "identity" "load over load";
    /// Force to lift the eyes.
    LIFT_FORCE "lift-force": (n: Number EACH 1.0..20000.0, P: Force CN 0.1..10000.0, h: Length MM 1.0..150.0, a: Length MM 20.0..2000.0, b: Length MM 20.0..3000.0) -> F: Force N
        = "(n*P/100)*(h/a+h/b)"; |[n, p, h, a, b]| n * p / 100.0 * (h / a + h / b); Derived "statics" "both sides of a lifted end";
    /// Least slot for a lift, so that the bar does not drag the slot ends up.
    SLOT_NEEDS "slot-needs": (h: Length MM 1.0..150.0) -> s: Length MM
        = "2*h+20"; |[h]| 2.0 * h + 20.0; Practice "practice" "both lifts and 20 mm";
    /// Step of a ratchet at a winding diameter, k pawls set between each other's teeth.
    RATCHET_STEP "ratchet-step": (D: Length MM 5.0..500.0, N: Number EACH 4.0..400.0, k: Number EACH 1.0..6.0) -> s: Length MM
        = "pi*D/(N*k)"; |[d, n, k]| PI * d / (n * k); Identity "identity" "circumference over steps";
    /// The same as a stretch of the free warp.
    STEP_STRAIN "step-strain": (s: Length MM 0.01..200.0, a: Length MM 20.0..2000.0, b: Length MM 20.0..3000.0) -> e: Ratio PERCENT
        = "100*s/(a+b)"; |[s, a, b]| 100.0 * s / (a + b); Identity "identity" "strain by definition";
    /// Diameter of a roll with length L of layers t thick on it.
    ROLL_DIAMETER "roll-diameter": (D: Length MM 5.0..500.0, t: Length MM 0.05..10.0, L: Length M 0.1..500.0) -> d: Length MM
        = "sqrt(D*D+4*t*L*1000/pi)"; |[d, t, l]| (d * d + 4.0 * t * l * 1000.0 / PI).sqrt(); Published "dr-math-67031" "area of a spiral";
    /// Length on a roll.
    ROLL_LENGTH "roll-length": (D: Length MM 5.0..1000.0, d: Length MM 5.0..1000.0, t: Length MM 0.05..10.0) -> L: Length MM
        = "pi*(D*D-d*d)/(4*t)"; |[a, b, t]| PI * (a * a - b * b) / (4.0 * t); ["d<=D", |[a, b, _]| b <= a]; Published "dr-math-67031" "area of a spiral";
    /// Force on one tooth.
    PAWL_FORCE "pawl-force": (F: Force N 0.1..20000.0, d: Length MM 5.0..500.0, D: Length MM 10.0..500.0) -> P: Force N
        = "F*d/D"; |[f, d, r]| f * d / r; Derived "statics" "equal torques at roll and tooth circle";
    /// Twist of a round bar held by a pawl at one end, over half its length.
    BEAM_TWIST "beam-twist": (F: Force N 0.1..20000.0, D: Length MM 5.0..500.0, S: Length MM 100.0..3000.0, E: Stress GPA 1.0..220.0, d: Length MM 5.0..500.0) -> w: Angle DEG
        = "(180/pi)*32*(F*D/2)*(S/2)/(pi*(1000*E/16)*d*d*d*d)";
        |[f, r, s, e, d]| 32.0 * (f * r / 2.0) * (s / 2.0) / (PI * e * 1000.0 / 16.0 * d * d * d * d) * 180.0 / PI; Memory "wood-handbook" "shear modulus about a sixteenth of E";
    /// Shear stress of a round bar under torque.
    TORSION_STRESS "torsion-stress": (T: Torque NEWTON_M 0.01..1000.0, d: Length MM 3.0..500.0) -> q: Stress MPA
        = "16*T*1000/(pi*d*d*d)"; |[t, d]| 16.0 * t * 1000.0 / (PI * d * d * d); Memory "roark" "torsion of a round bar";
    /// Load at which a leg buckles.
    BUCKLING "buckling-load": (E: Stress GPA 1.0..220.0, I: SecondMoment MM4 100.0..100000000.0, L: Length MM 50.0..5000.0, K: Ratio ONE 0.5..2.0) -> P: Force N
        = "pi*pi*E*1000*I/((K*L)*(K*L))"; |[e, i, l, k]| PI * PI * e * 1000.0 * i / ((k * l) * (k * l)); Memory "euler" "column";
    /// Bending stress a clear wood may be planned with: its 5 % point over 2.1.
    ALLOWED_STRESS "allowed-stress": (f: Stress MPA 10.0..200.0, v: Ratio ONE 0.05..0.3) -> q: Stress MPA
        = "f*(1-1.645*v)/2.1"; |[f, v]| f * (1.0 - 1.645 * v) / 2.1; Memory "astm-d245" "clear wood, before knots and slope of grain";
    /// Load across its length that a wood screw may carry at the proportional limit, before any safety.
    SCREW_ACROSS "screw-across": (K: Stress MPA 15.0..60.0, D: Length MM 1.0..30.0) -> p: Force N
        = "K*D*D"; |[k, d]| k * d * d; Memory "wood-handbook-8" "eq. 8-13 as quoted elsewhere, K by Table 8-4: side grain, at least seven diameters deep";
    /// Load along its length that a wood screw may carry in side grain for good.
    SCREW_ALONG "screw-along": (G: Ratio ONE 0.2..1.0, D: Length MM 1.0..30.0, L: Length MM 1.0..300.0) -> p: Force N
        = "19.65*G*G*D*L"; |[g, d, l]| 19.65 * g * g * d * l; Published "screw-page" "2850 lb an inch of thread in inch-pound units; what tears it out is 5.5 times that (wood-handbook-8, eq. 8-10)";
    /// Load along its length that tears a wood screw out of side grain.
    SCREW_TEARS "screw-tears": (G: Ratio ONE 0.2..1.0, D: Length MM 1.0..30.0, L: Length MM 1.0..300.0) -> p: Force N
        = "108.25*G*G*D*L"; |[g, d, l]| 108.25 * g * g * d * l; Memory "wood-handbook-8" "eq. 8-10 as quoted elsewhere";
    /// Middle bow of a beam with one load in the middle.
    CENTRE_LOAD "centre-load-deflection": (P: Force N 0.1..20000.0, L: Length MM 50.0..5000.0, E: Stress GPA 1.0..220.0, I: SecondMoment MM4 100.0..100000000.0) -> y: Length MM
        = "P*L*L*L/(48*E*1000*I)"; |[p, l, e, i]| p * l * l * l / (48.0 * e * 1000.0 * i); Memory "roark" "table 8";
}
