//! Sleeve and armhole are as long as each other.

use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "sleeve-and-armhole-differ",
    title: "Sleeve and armhole are as long as each other.",
    severity: Severity::Fail,
    why: "Two edges that are sewn together must measure the same along the seam line. Cloth that does not stretch will not \
          be eased by more than a few millimetres.",
    source: Source { key: "identity", at: "the two seam lines, measured" },
    evidence: Evidence::Identity,
    about: &["garment.sleeve_mismatch"],
    margin: |f| Some(0.002 - f.si(&id::SLEEVE_MISMATCH)?.abs()),
    say: |f| format!("Armhole and sleeve differ by {} along the seam; 2 mm is the most that can be sewn in.", f.text(&id::SLEEVE_MISMATCH)),
    knobs: &[],
};
