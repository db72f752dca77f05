//! The garment goes over the chest.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "chest-does-not-pass",
    title: "The garment goes over the chest.",
    severity: Severity::Fail,
    why: "A top without an opening is put on over head and shoulders. With less than about 6 cm of ease in cloth that does \
          not stretch, it binds at the first lifted arm.",
    source: Source { key: "cwu-costume", at: "ch. 16, classic shirt ease; loose tops more" },
    evidence: Evidence::Published,
    about: &["garment.girth", "garment.chest", "garment.chest_ease"],
    margin: |f| Some(f.si(&id::CHEST_EASE)? / 0.06 - 1.0),
    say: |f| format!("The garment measures {} round the chest, {} over the body; woven cloth needs at least 6 cm.", f.text(&id::GARMENT_CHEST), f.text(&id::CHEST_EASE)),
    knobs: &[&knobs::CHEST_EASE],
};
