//! The sett is below the closest there is.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "sett-beyond-greatest",
    title: "The sett is below the closest there is.",
    severity: Severity::Fail,
    why: "Threads have thickness. Beyond the closest sett there is no room for the weft to pass between the ends, and \
          beating harder only breaks them.",
    source: Source { key: "taylor-1909", at: "p. 464, diameters and intersections" },
    evidence: Evidence::Published,
    about: &["cloth.firmness", "cloth.sett_in_reed", "cloth.greatest_sett"],
    margin: |f| Some(1.0 - f.si(&id::FIRMNESS)?),
    say: |f| format!("{} in the heddle is {} of the closest these yarns allow, {}.", f.text(&id::SETT_IN_REED), f.text(&id::FIRMNESS), f.text(&id::GREATEST_SETT)),
    knobs: &[&knobs::FIRMNESS, &knobs::SETT, &knobs::WARP_COUNT],
};
