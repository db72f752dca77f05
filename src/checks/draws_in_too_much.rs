//! The edges hold against the draw-in.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "draws-in-too-much",
    title: "The edges hold against the draw-in.",
    severity: Severity::Warn,
    why: "What the cloth narrows, the heddle must spread again at every beat, and it is the edge ends that pay. Beyond \
          about a tenth they fray and break: lay the weft in at an angle, or use a temple.",
    source: Source { key: "practice", at: "diaries: 4.5 to 7.4 % on wide cloth; trouble above a tenth" },
    evidence: Evidence::Practice,
    about: &["cloth.draw_in"],
    margin: |f| Some(0.10 - f.si(&id::DRAW_IN)?),
    say: |f| format!("The cloth draws in by {}; beyond 10 % the edge ends fray. Lay more slack into each pick or use a temple.", f.text(&id::DRAW_IN)),
    knobs: &[&knobs::FIRMNESS, &knobs::SETT],
};
