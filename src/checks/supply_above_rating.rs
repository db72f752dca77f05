//! The supply is not above the motor's rating.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "supply-above-rating",
    title: "The supply is not above the motor's rating.",
    severity: Severity::Fail,
    why: "A speed control that limits the mean voltage helps only while it works: a transistor fails full on, and then the \
          motor runs at the whole voltage, hotter by its square and faster than the flyer is trusted to turn. Choose a \
          supply at or below the rating.",
    source: Source { key: "school-robotics", at: "speed and stall scale with voltage, heat with its square" },
    evidence: Evidence::Published,
    about: &["spinner.supply_voltage", "spinner.motor_rated"],
    margin: |f| Some(f.below(&id::SUPPLY_VOLTAGE, &id::MOTOR_RATED)? + 1e-9),
    say: |f| format!("The supply gives {} to a motor rated {}. If the speed control fails full on, the motor sees all of it.", f.text(&id::SUPPLY_VOLTAGE), f.text(&id::MOTOR_RATED)),
    knobs: &[&knobs::SUPPLY_VOLTAGE],
};
