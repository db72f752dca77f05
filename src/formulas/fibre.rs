//! Fibre: fineness, fibres in a section, the least unevenness a yarn can have, moisture.

use super::registry::formulas;
use std::f64::consts::PI;

formulas! {
    /// Fineness of cotton from its airflow value, a microgram per inch.
    FROM_MICRONAIRE "fibre-from-micronaire": (mic: Micronaire MIC 1.0..10.0) -> Tf: LinearDensity MTEX
        = "39.37*mic"; |[mic]| 39.37 * mic; Published "klein-manual" "specification of fineness";
    /// Fineness of a round solid fibre, as wool is, from its diameter.
    FROM_DIAMETER "fibre-from-diameter": (d: Length UM 8.0..60.0, rho: Density G_CM3 0.9..1.6) -> Tf: LinearDensity MTEX
        = "(pi/4)*d*d*rho"; |[d, rho]| PI / 4.0 * d * d * rho; Published "morton-hearle" "section 3.4.1";
    /// Thickness of a round solid fibre from its fineness.
    FIBRE_THICKNESS "fibre-thickness": (Tf: LinearDensity MTEX 50.0..5000.0, rho: Density G_CM3 0.9..1.6) -> d: Length UM
        = "sqrt(4*Tf/(pi*rho))"; |[t, rho]| (4.0 * t / (PI * rho)).sqrt(); Published "morton-hearle" "section 3.4.1, turned round";
    /// How many fibres stand side by side in the yarn.
    FIBRES_IN_SECTION "fibres-in-section": (Tt: LinearDensity TEX 1.0..5000.0, Tf: LinearDensity MTEX 50.0..5000.0) -> n: Number EACH
        = "1000*Tt/Tf"; |[tt, tf]| 1000.0 * tt / tf; Published "texcoms-2023" "p. 141";
    /// The unevenness that is left when fibres fall at random and nothing else goes wrong; the constant is 106 for cotton, 112 for wool,
    /// 100 for uniform fibre.
    LIMIT_IRREGULARITY "limit-irregularity": (k: Ratio ONE 100.0..120.0, n: Number EACH 1.0..100000.0) -> CV: Ratio PERCENT
        = "k/sqrt(n)"; |[k, n]| k / n.sqrt(); Published "gate" "2006 Q43, 2014 Q48, 2021 Q53 (Martindale 1945)";
    /// Martindale's limit with the unevenness of the fibres' own diameter.
    LIMIT_BY_FIBRE "limit-irregularity-by-fibre": (n: Number EACH 1.0..100000.0, Vd: Ratio PERCENT 0.0..60.0) -> CV: Ratio PERCENT
        = "100*sqrt(1+0.0004*Vd*Vd)/sqrt(n)"; |[n, vd]| 100.0 * (1.0 + 0.0004 * vd * vd).sqrt() / n.sqrt(); Memory "martindale-1945" "limit for fibre-diameter variation";
    /// How much worse than that limit a yarn is.
    IRREGULARITY_INDEX "index-of-irregularity": (CV: Ratio PERCENT 1.0..60.0, CVlim: Ratio PERCENT 1.0..60.0) -> I: Ratio ONE
        = "CV/CVlim"; |[cv, lim]| cv / lim; Published "gate" "2021 Q53";
    /// Fibres in a tuft of known mass.
    FIBRES_IN_TUFT "fibres-in-tuft": (m: Mass MG 0.1..1000.0, l: Length MM 2.0..300.0, Tf: LinearDensity TEX 0.05..5.0) -> n: Number EACH
        = "1000*m/(l*Tf)"; |[m, l, tf]| 1000.0 * m / (l * tf); Published "gate" "2021 Q18";
    /// Moisture content from regain: water as a share of the wet mass.
    CONTENT_FROM_REGAIN "moisture-content": (R: Ratio PERCENT 0.0..60.0) -> M: Ratio PERCENT
        = "100*R/(100+R)"; |[r]| 100.0 * r / (100.0 + r); Identity "identity" "R and M by definition";
    /// Regain from moisture content: water as a share of the dry mass.
    REGAIN_FROM_CONTENT "moisture-regain": (M: Ratio PERCENT 0.0..40.0) -> R: Ratio PERCENT
        = "100*M/(100-M)"; |[m]| 100.0 * m / (100.0 - m); Identity "identity" "R and M by definition";
    /// Regain of a blend of two fibres, the first with share s of the dry mass.
    BLEND_REGAIN "blend-regain": (s: Ratio ONE 0.0..1.0, R1: Ratio PERCENT 0.0..30.0, R2: Ratio PERCENT 0.0..30.0) -> R: Ratio PERCENT
        = "s*R1+(1-s)*R2"; |[s, a, b]| s * a + (1.0 - s) * b; Published "textilecalculation" "2015/04; gate 2022 Q23";
    /// What a lot would weigh at the regain it is invoiced at.
    INVOICE_MASS "invoice-mass": (m: Mass KG 0.01..100000.0, M: Ratio PERCENT 0.0..40.0, R: Ratio PERCENT 0.0..40.0) -> mi: Mass KG
        = "m*(1-M/100)*(1+R/100)"; |[m, c, r]| m * (1.0 - c / 100.0) * (1.0 + r / 100.0); Published "textilecalculation" "2015/04";
    /// Water in a mass that was weighed at equilibrium.
    WATER_HELD "water-held": (m: Mass G 0.1..100000.0, R: Ratio PERCENT 0.0..60.0) -> w: Mass G
        = "m*R/(100+R)"; |[m, r]| m * r / (100.0 + r); Published "gate" "2007 Q70";
}
