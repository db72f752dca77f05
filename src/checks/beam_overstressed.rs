//! The beam does not break.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "beam-overstressed",
    title: "The beam does not break.",
    severity: Severity::Fail,
    why: "Peaks of tension are two to three times the mean, wood varies from piece to piece, and knots halve it. Stand \
          clear when a tight warp is let off.",
    source: Source { key: "astm-d245", at: "5 % point over 2.1, before knots" },
    evidence: Evidence::Memory,
    about: &["loom.beam_stress", "loom.stress_allowed"],
    margin: |f| f.below(&id::BEAM_STRESS, &id::STRESS_ALLOWED),
    say: |f| format!("At the peak the beam carries {}; clear wood of this kind may be planned with {}.", f.text(&id::BEAM_STRESS), f.text(&id::STRESS_ALLOWED)),
    knobs: &[&knobs::BEAM, &knobs::TENSION],
};
