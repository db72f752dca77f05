//! The head passes the neck.

use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "head-does-not-pass",
    title: "The head passes the neck.",
    severity: Severity::Fail,
    why: "Woven cloth does not stretch, and every adult's head is larger round than the neck. A close neck always needs a \
          slit or a placket.",
    source: Source { key: "ansur-2", at: "head girth exceeds neck-base girth in all of 6068 people" },
    evidence: Evidence::Published,
    about: &["garment.neck_opening", "garment.head_needs", "garment.slit"],
    margin: |f| Some((f.si(&id::NECK_OPENING)? + 2.0 * f.si(&id::SLIT_MADE).unwrap_or(0.0)) / f.si(&id::HEAD_NEEDS)? - 1.0 + 1e-9),
    say: |f| format!("The neck measures {} with a slit of {}; the head needs {}. A slit of {} would do.", f.text(&id::NECK_OPENING), f.text(&id::SLIT_MADE), f.text(&id::HEAD_NEEDS), f.text(&id::SLIT)),
    knobs: &[],
};
