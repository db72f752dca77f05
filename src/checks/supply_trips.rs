//! The supply holds when the spindle is stopped.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "supply-trips",
    title: "The supply holds when the spindle is stopped.",
    severity: Severity::Fail,
    why: "A snarl stops the flyer dead; the motor then draws its stall current. A supply that trips at that leaves you \
          restarting it at every snarl, and one that does not trip needs a fuse.",
    source: Source { key: "mit-2007", at: "stall is voltage over resistance" },
    evidence: Evidence::Published,
    about: &["spinner.supply_current", "spinner.supply_limit", "spinner.stall_current"],
    margin: |f| f.below(&id::SUPPLY_STALL, &id::SUPPLY_LIMIT),
    say: |f| format!("With the rotor held the supply is asked for {}; it gives {}.", f.text(&id::SUPPLY_STALL), f.text(&id::SUPPLY_LIMIT)),
    knobs: &[&knobs::SUPPLY_VOLTAGE],
};
