//! Yarn: thickness, twist, plying, strength. Counts are of the washed, relaxed yarn.

use super::registry::formulas;
use std::f64::consts::PI;

formulas! {
    /// Thickness of a yarn taken as a cylinder of fibre and air.
    DIAMETER "yarn-diameter": (Tt: LinearDensity TEX 1.0..5000.0, rho: Density G_CM3 0.8..1.7, phi: Ratio ONE 0.2..0.9) -> d: Length MM
        = "sqrt(0.004*Tt/(pi*rho*phi))"; |[t, rho, phi]| (0.004 * t / (PI * rho * phi)).sqrt(); Published "iit-numerical" "Q2; gate 2008 Q71";
    /// Packing fraction from the room a gram of yarn takes.
    PACKING "packing-from-specific-volume": (v: Ratio ONE 0.7..2.5, rho: Density G_CM3 0.8..1.7) -> phi: Ratio ONE
        = "1/(v*rho)"; |[v, rho]| 1.0 / (v * rho); Identity "identity" "specific volume in cm3/g";
    /// Peirce's diameter of a cotton yarn, for comparison.
    PEIRCE_DIAMETER "yarn-diameter-peirce": (Ne: LinearDensity NE 0.5..300.0) -> d: Length INCH
        = "1/(28*sqrt(Ne))"; |[ne]| 1.0 / (28.0 * ne.sqrt()); Published "peirce-1937" "by gate 2007 Q85 and iit-numerical Q3";
    /// Yarns that lie side by side in an inch, the old square-root rule for firm cotton.
    DIAMETERS_PER_INCH "diameters-per-inch": (c: Ratio ONE 0.8..1.0, y: LinearDensity YD_LB 100.0..300000.0) -> n: PerLength PER_IN
        = "c*sqrt(y)"; |[c, y]| c * y.sqrt(); Published "taylor-1909" "p. 453 and 458, root of yards per pound less 5 %";
    /// Turns from the multiplier.
    TWIST "twist": (count: LinearDensity NE 0.3..300.0, multiplier: TwistFactor TM 0.5..9.0) -> tpi: PerLength PER_IN
        = "multiplier*sqrt(count)"; |[ne, tm]| tm * ne.sqrt(); Published "gate" "2021 Q19";
    /// The multiplier that a twist amounts to.
    TWIST_MULTIPLIER "twist-multiplier": (count: LinearDensity NE 0.3..300.0, tpi: PerLength PER_IN 0.5..80.0) -> multiplier: TwistFactor TM
        = "tpi/sqrt(count)"; |[ne, t]| t / ne.sqrt(); Published "gate" "2021 Q19, turned round";
    /// Turns from the tex twist factor.
    TWIST_BY_TEX "twist-from-tex-factor": (alpha: TwistFactor ALPHA_TEX 5.0..90.0, Tt: LinearDensity TEX 1.0..5000.0) -> T: PerLength PER_CM
        = "alpha/sqrt(Tt)"; |[a, t]| a / t.sqrt(); Published "gate" "2014 Q19";
    /// Slope of the fibres at the yarn's surface.
    SURFACE_ANGLE "surface-angle": (d: Length MM 0.02..5.0, T: PerLength PER_M 10.0..4000.0) -> alpha: Angle DEG
        = "atan(pi*d*T/1000)*180/pi"; |[d, t]| libm::atan(PI * d * t / 1000.0) * 180.0 / PI; Published "gate" "2022 Q47";
    /// Length lost by twisting a strand into an ideal helix yarn, less what real yarn does not lose: q is the practical share.
    CONTRACTION "contraction": (q: Ratio ONE 0.3..1.0, alpha: Angle DEG 1.0..60.0) -> k: Ratio PERCENT
        = "100*q*(1-2/(1+1/cos(alpha*pi/180)))"; |[q, a]| 100.0 * q * (1.0 - 2.0 / (1.0 + 1.0 / libm::cos(a * PI / 180.0)));
        Derived "braschler" "ideal helix, times the practical share (2-3 % printed against 4.6 % ideal)";
    /// Length of the straight strand for one of the ideal helix yarn.
    HELIX_RATIO "helix-ratio": (alpha: Angle DEG 1.0..60.0) -> r: Ratio ONE
        = "(1+1/cos(alpha*pi/180))/2"; |[a]| (1.0 + 1.0 / libm::cos(a * PI / 180.0)) / 2.0; Memory "braschler" "ideal helix";
    /// Count of each single in a plied yarn that weighs R as woven.
    SINGLE_COUNT "single-count": (R: LinearDensity TEX 1.0..5000.0, n: Number EACH 1.0..8.0, k: Ratio ONE -0.1..0.2) -> Ts: LinearDensity TEX
        = "R*(1-k)/n"; |[r, n, k]| r * (1.0 - k) / n; Derived "brooks-1892" "folding, a little coarser by twist";
    /// Count of a yarn folded from two.
    FOLDED_COUNT "folded-count": (a: LinearDensity NE 0.5..300.0, b: LinearDensity NE 0.5..300.0) -> N: LinearDensity NE
        = "a*b/(a+b)"; |[a, b]| a * b / (a + b); Published "brooks-1892" "Wrapping, 40s and 20s";
    /// Twist that balances a plied yarn, against the singles' hand.
    PLY_TWIST "ply-twist": (s: Ratio ONE 0.4..1.0, T: PerLength PER_M 10.0..4000.0) -> Tp: PerLength PER_M
        = "s*T"; |[s, t]| s * t; Published "bellwether-2008" "two thirds; 0.6 to 0.8 in practice";
    /// Twist left in the singles after plying the other way.
    TWIST_LEFT "twist-left": (T: PerLength PER_M 10.0..4000.0, Tp: PerLength PER_M 0.0..4000.0) -> Tl: PerLength PER_M
        = "T-Tp"; |[t, p]| t - p; Identity "identity" "turns in minus turns out";
    /// Slip factor of the strength law: fibres held by their length and friction.
    SLIP_FACTOR "slip-factor": (d: Length MM 0.005..0.06, Q: Length MM 1.0..60.0, mu: Ratio ONE 0.1..0.8, L: Length MM 5.0..600.0) -> k: Ratio ONE
        = "sqrt(d*Q/mu)/(3*L)"; |[d, q, mu, l]| (d * q / mu).sqrt() / (3.0 * l); Published "hearle-1969" "as in hpttf p. 267";
    /// Share of the fibres' strength that twist lets a yarn carry: its shape, not its size.
    STRENGTH_BY_TWIST "strength-by-twist": (alpha: Angle DEG 3.0..50.0, k: Ratio ONE 0.0001..0.05) -> s: Ratio ONE
        = "cos(alpha*pi/180)*cos(alpha*pi/180)*(1-k/sin(alpha*pi/180))";
        |[a, k]| { let r = a * PI / 180.0; let c = libm::cos(r); c * c * (1.0 - k / libm::sin(r)) }; Published "hearle-1969" "as in hpttf p. 267";
    /// Strength per tex of a hand-spun yarn: the fibre's, what a mill yarn realises of it, what a hand yarn does of that, and the twist's
    /// shape against the shape at a usual warp twist.
    TENACITY "yarn-tenacity": (f: Tenacity CN_TEX 1.0..80.0, r: Ratio ONE 0.2..0.9, h: Ratio ONE 0.2..1.0, s: Ratio ONE 0.2..1.0, s0: Ratio ONE 0.2..1.0) -> t: Tenacity CN_TEX
        = "f*r*h*s/s0"; |[f, r, h, s, s0]| f * r * h * s / s0; Derived "hpttf" "Table 7.3 over morton-hearle Table 13.1; chattopadhyay for the hand share";
    /// Load that breaks one end, mean at 50 cm gauge.
    BREAK_LOAD "break-load": (Tt: LinearDensity TEX 1.0..5000.0, t: Tenacity CN_TEX 0.5..80.0) -> F: Force CN
        = "Tt*t"; |[tt, t]| tt * t; Identity "identity" "tenacity by definition";
    /// Mean of the weakest of n links, in standard deviations below the mean of one; n up to 1000.
    WEAKEST_LINK "weakest-link": (n: Number EACH 1.0..1000.0) -> z: Ratio ONE
        = "4.2*(1-n^(-1/5))"; |[n]| 4.2 * (1.0 - libm::pow(n, -0.2)); Memory "peirce-1926" "T355; within 1.4 % of the exact normal minimum for n 5 to 100";
    /// Skein break product of lea strength and count.
    COUNT_STRENGTH_PRODUCT "count-strength-product": (count: LinearDensity NE 0.5..300.0, F: Force LBF 1.0..1000.0) -> CSP: Ratio ONE
        = "count*F"; |[ne, f]| ne * f; Published "gate" "30 tex at 500 N";
    /// Yarn tenacity from Pressley index: one mill's regression, Ne 38.
    TENACITY_FROM_PRESSLEY "tenacity-from-pressley": (P: Ratio ONE 60.0..120.0) -> R: Tenacity GF_TEX
        = "0.22*P-4.43"; |[p]| 0.22 * p - 4.43; Published "technofashion" "fiber strength and cotton yarn p. 3";
    /// Yarn tenacity from a stelometer value: the same mill.
    TENACITY_FROM_STELOMETER "tenacity-from-stelometer": (S: Tenacity GF_TEX 10.0..40.0) -> R: Tenacity GF_TEX
        = "4.44+0.52*S"; |[s]| 4.44 + 0.52 * s; Published "technofashion" "fiber strength and cotton yarn p. 3";
    /// Chance that a link of a yarn breaks under a load, its strength being normally spread.
    LINK_RISK "link-risk": (F: Force CN 0.1..100000.0, m: Force CN 1.0..100000.0, r: Ratio ONE 0.3..1.0, v: Ratio ONE 0.03..0.6) -> p: Ratio ONE
        = "0.5*erfc((1-F/(r*m))/(v*sqrt(2)))"; |[f, m, r, v]| 0.5 * libm::erfc((1.0 - f / (r * m)) / (v * std::f64::consts::SQRT_2));
        Derived "peirce-1926" "normal strength of a link; r is what rubbing leaves of it";
    /// Breaks to expect in a warp: its links, each with that chance.
    EXPECTED_BREAKS "expected-breaks": (L: Length M 1.0..1000000.0, g: Length M 0.05..2.0, p: Ratio ONE 0.0..1.0) -> b: Number EACH
        = "p*L/g"; |[l, g, p]| l / g * p; Derived "peirce-1926" "independent links";
    /// Strand that twisting shortens to a length of yarn, r being its length over the yarn's.
    STRAND_LENGTH "strand-length": (L: Length M 0.1..1000000000.0, r: Ratio ONE 1.0..1.5) -> L0: Length M
        = "L*r"; |[l, r]| l * r; Published "gate" "2014 Q37";
    /// Length lost to twist, from the count that was drafted and the count that was spun.
    CONTRACTION_FROM_COUNT "contraction-from-count": (N: LinearDensity NE 0.3..300.0, Ns: LinearDensity NE 0.3..300.0) -> k: Ratio PERCENT
        = "100*(1-Ns/N)"; |[n, s]| 100.0 * (1.0 - s / n); Published "draper-1896" "contraction by twist";
    /// How full a load-stretch curve is: work to break over load times stretch; a straight line has a half.
    WORK_FACTOR "work-factor": (W: Tenacity CN_TEX 0.01..50.0, t: Tenacity CN_TEX 1.0..100.0, eb: Ratio PERCENT 0.5..60.0) -> q: Ratio ONE
        = "100*W/(t*eb)"; |[w, t, e]| 100.0 * w / (t * e); Published "morton-hearle" "Table 13.1";
}
