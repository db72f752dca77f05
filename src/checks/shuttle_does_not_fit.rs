//! The shuttle passes the shed.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "shuttle-does-not-fit",
    title: "The shuttle passes the shed.",
    severity: Severity::Fail,
    why: "A rigid heddle opens the shed one way only: at the shuttle the opening is the lift, less what the distance \
          takes. It grows smaller as the cloth is woven towards the heddle.",
    source: Source { key: "brooks-1892", at: "the opening nearly the shuttle's height; 3 mm over it is common practice, no source" },
    evidence: Evidence::Practice,
    about: &["loom.shed_opening_late", "loom.shuttle_height", "loom.shed_opening"],
    margin: |f| Some(f.si(&id::SHED_OPENING_LATE).unwrap_or(0.0) / (f.si(&id::SHUTTLE_HEIGHT)? + 0.003) - 1.0),
    say: |f| format!("Just before moving on, the shed opens {} at the shuttle, which is {} high and wants 3 mm more.", f.text(&id::SHED_OPENING_LATE), f.text(&id::SHUTTLE_HEIGHT)),
    knobs: &[&knobs::SHUTTLE_HEIGHT, &knobs::LIFT, &knobs::FELL_TO_HEDDLE],
};
