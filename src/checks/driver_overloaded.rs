//! The speed control stands what the motor draws when it is held.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "driver-overloaded",
    title: "The speed control stands what the motor draws when it is held.",
    severity: Severity::Fail,
    why: "A snarl holds the flyer, and the motor draws its stall current through the speed control. A transistor that may \
          pass less burns out, often so that it stays on: then nothing but the stop holds the flyer.",
    source: Source { key: "mit-2007", at: "stall is voltage over resistance" },
    evidence: Evidence::Published,
    about: &["spinner.stall_current", "spinner.driver_limit"],
    margin: |f| f.below(&id::STALL_CURRENT, &id::DRIVER_LIMIT),
    say: |f| format!("With the rotor held the winding draws {}; the speed control may pass {}. Take one for more.", f.text(&id::STALL_CURRENT), f.text(&id::DRIVER_LIMIT)),
    knobs: &[&knobs::SUPPLY_VOLTAGE],
};
