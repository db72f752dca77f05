//! The cloth is light enough for the article.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "cloth-too-heavy",
    title: "The cloth is light enough for the article.",
    severity: Severity::Fail,
    why: "A single home-made heddle often leads here: its coarse sett asks for coarse yarn, and the shirt comes out as \
          sacking.",
    source: Source { key: "practice", at: "usual masses by article; shirtings 110 to 200 g/m2" },
    evidence: Evidence::Practice,
    about: &["cloth.mass", "garment.greatest_mass"],
    margin: |f| f.below(&id::CLOTH_MASS, &id::GREATEST_MASS),
    say: |f| format!("The finished cloth will weigh {}; for this article it should be under {}.", f.text(&id::CLOTH_MASS), f.text(&id::GREATEST_MASS)),
    knobs: &[&knobs::MASS, &knobs::WARP_COUNT, &knobs::FIRMNESS, &knobs::SETT, &knobs::HEDDLES],
};
