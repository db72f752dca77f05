//! The bobbin winds on.

use super::knobs;
use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "cannot-wind-on",
    title: "The bobbin winds on.",
    severity: Severity::Fail,
    why: "Yarn winds on because bobbin and flyer turn at different speeds. Where the design leaves no difference, the \
          wheel turns beautifully and takes nothing.",
    source: Source { key: "klein-manual", at: "winding on flyer bobbins" },
    evidence: Evidence::Published,
    about: &["spinner.bobbin_speed", "spinner.wind_on_empty", "spinner.least_whorl_ratio"],
    margin: |f| match (f.si(&id::WHORL_RATIO), f.si(&id::LEAST_WHORL_RATIO)) {
        (Some(ratio), Some(least)) => Some(ratio / least - 1.0),
        _ => Some(f.si(&id::FLYER_SPEED)? / f.si(&id::WIND_ON_EMPTY)? - 1.0),
    },
    say: |f| match f.si(&id::LEAST_WHORL_RATIO) {
        Some(_) => format!("The flyer's whorl is {} times the bobbin's; to wind on at this twist it must be {}.", f.text(&id::WHORL_RATIO), f.text(&id::LEAST_WHORL_RATIO)),
        None => format!("At {} the bobbin would have to lag by {} and the flyer turns only {}.", f.text(&id::PACE), f.text(&id::WIND_ON_EMPTY), f.text(&id::FLYER_SPEED)),
    },
    knobs: &[&knobs::PACE],
};
