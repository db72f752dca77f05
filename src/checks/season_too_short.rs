//! The season ripens the bolls.

use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "season-too-short",
    title: "The season ripens the bolls.",
    severity: Severity::Fail,
    why: "A boll opens after a sum of warm days, not a number of days. Where the season gives less, bolls stand full and \
          closed at the first frost, and fibre ripened off the plant is weak.",
    source: Source { key: "jones-2011", at: "first open boll 1650 to 1850 heat units" },
    evidence: Evidence::Published,
    about: &["season.heat_units", "season.heat_needed"],
    margin: |f| f.above(&id::HEAT_UNITS, &id::HEAT_NEEDED),
    say: |f| format!("From sowing to the end of the season there are {}; the first boll needs {} to open. Start indoors, cover the rows, or buy the lint.", f.text(&id::HEAT_UNITS), f.text(&id::HEAT_NEEDED)),
    knobs: &[],
};
