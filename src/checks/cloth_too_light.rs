//! The cloth is heavy enough for the article.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "cloth-too-light",
    title: "The cloth is heavy enough for the article.",
    severity: Severity::Fail,
    why: "Too light a cloth shows what is below it, tears at the seams and does not last.",
    source: Source { key: "practice", at: "usual masses by article; shirtings 110 to 200 g/m2" },
    evidence: Evidence::Practice,
    about: &["cloth.mass", "garment.least_mass"],
    margin: |f| f.above(&id::CLOTH_MASS, &id::LEAST_MASS),
    say: |f| format!("The finished cloth will weigh {}; for this article it should be over {}.", f.text(&id::CLOTH_MASS), f.text(&id::LEAST_MASS)),
    knobs: &[&knobs::MASS, &knobs::WARP_COUNT, &knobs::FIRMNESS, &knobs::SETT, &knobs::HEDDLES],
};
