//! The cloth weighs what was wished.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "mass-off-wish",
    title: "The cloth weighs what was wished.",
    severity: Severity::Warn,
    why: "Where yarn and sett are both fixed, the mass is what they make it. This check says how far that is from the \
          wish.",
    source: Source { key: "identity", at: "against the plan's own wish" },
    evidence: Evidence::Identity,
    about: &["cloth.mass", "cloth.mass_wished"],
    margin: |f| Some(0.1 - (f.si(&id::CLOTH_MASS)? / f.si(&id::MASS_WISHED)? - 1.0).abs()),
    say: |f| format!("The finished cloth will weigh {}; {} was wished.", f.text(&id::CLOTH_MASS), f.text(&id::MASS_WISHED)),
    knobs: &[&knobs::WARP_COUNT, &knobs::FIRMNESS, &knobs::SETT],
};
