//! The cloth is close enough to print on.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "too-open-to-print",
    title: "The cloth is close enough to print on.",
    severity: Severity::Warn,
    why: "Ink sits on the high threads and falls through the holes. Plain cloth prints well from a cover factor of about \
          17.",
    source: Source { key: "practice", at: "printable plain cloth has a cover factor of 17 to 21" },
    evidence: Evidence::Practice,
    about: &["cloth.cover_factor", "cloth.open_area"],
    margin: |f| { f.si(&id::PRINT_WIDTH)?; Some(f.si(&id::COVER_FACTOR)? / 17.0 - 1.0) },
    say: |f| format!("The cover factor is {}, with {} of the cloth open; a print wants 17.", f.text(&id::COVER_FACTOR), f.text(&id::OPEN_AREA)),
    knobs: &[&knobs::FIRMNESS, &knobs::MASS, &knobs::SETT, &knobs::WARP_COUNT],
};
