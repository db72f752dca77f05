//! The fibre on hand makes the yarn.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "fibre-too-little",
    title: "The fibre on hand makes the yarn.",
    severity: Severity::Fail,
    why: "Every step loses a part, and losses multiply: a bag that looks like enough for a garment rarely is. Running out \
          half way means waiting a year, or a second lot of another colour.",
    source: Source { key: "sheikh-yield", at: "losses of each step multiply" },
    evidence: Evidence::Published,
    about: &["demand.yarn_possible", "demand.yarn_mass"],
    margin: |f| f.above(&id::YARN_POSSIBLE, &id::YARN_MASS),
    say: |f| format!("The fibre on hand makes {} of yarn; this plan needs {}.", f.text(&id::YARN_POSSIBLE), f.text(&id::YARN_MASS)),
    knobs: &[&knobs::MASS, &knobs::FIRMNESS, &knobs::WARP_COUNT, &knobs::HOW_MANY, &knobs::WIDTH],
};
