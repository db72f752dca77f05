//! One file a check: why it matters, its margin, its words, and the knobs that may mend it. A margin of 0 or more passes; a check that does
//! not apply to a plan has none. Mends are solved through the chain, in [`mend`]; the list of knobs and what they may never do is in
//! [`knobs`].

pub mod knobs;
pub mod mend;

use crate::chain::mode::Numbers;
use crate::formulas::registry::{Evidence, Key, Source};
use crate::units::{Q, show};
use knobs::Knob;

macro_rules! checks {
    ($($module:ident),* $(,)?) => {
        $(pub mod $module;)*
        /// All checks, in the order of the chain.
        pub static ALL: &[&Check] = &[$(&$module::CHECK),*];
    };
}
checks! {
    fibre_too_little, season_too_short,
    fibres_too_few, warp_twist_too_little, warp_twist_too_much, weft_twist_outside,
    sett_beyond_greatest, cloth_jammed, cloth_too_loose, too_open_to_print, cloth_too_heavy, cloth_too_light, mass_off_wish,
    wash_beyond_geometry, draws_in_too_much,
    piece_wider_than_cloth, head_does_not_pass, sleeve_and_armhole_differ, chest_does_not_pass,
    too_wide_for_loom, percentages_added, slot_too_narrow, eye_too_small, wall_too_thin, slot_too_short,
    warp_strained, warp_breaks, shuttle_does_not_fit, shed_too_heavy, beam_bows, beam_overstressed, ratchet_too_coarse,
    supply_above_rating, motor_too_slow, motor_too_fast, motor_overheats, supply_trips, driver_overloaded, cannot_start, belt_slips, belt_wraps_little,
    pulley_too_small, cannot_wind_on, flyer_too_fast, flyer_runs_away, pull_too_hard,
    line_too_fine, gap_too_narrow,
}

/// How much a failed check weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// It will not work, or it can hurt. `check` exits with 1.
    Fail,
    /// It may disappoint.
    Warn,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word in the JSON and on the page.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Fail => "fail",
            Severity::Warn => "warn",
            Severity::Note => "note",
        }
    }
}

/// A check.
pub struct Check {
    /// Stable name.
    pub code: &'static str,
    /// What holds when it passes.
    pub title: &'static str,
    pub severity: Severity,
    /// Why it matters, for the manual.
    pub why: &'static str,
    pub source: Source,
    pub evidence: Evidence,
    /// Ids it speaks of, the main one first.
    pub about: &'static [&'static str],
    /// 0 or more passes; `None` where it does not apply.
    pub margin: fn(&Facts) -> Option<f64>,
    /// What is wrong, with the numbers.
    pub say: fn(&Facts) -> String,
    /// What may be turned to mend it, the likeliest first.
    pub knobs: &'static [&'static Knob],
}

/// The numbers of a run, and how the reader wants them written.
pub struct Facts<'a> {
    pub numbers: &'a Numbers,
    pub style: show::Style,
    /// Wool swells and felts: some rules are not for it.
    pub wool: bool,
}

/// A margin smaller than this is rounding: 1.9 mm less 0.9 mm, halved, is 0.5 mm.
const LAST_BITS: f64 = 1e-9;

impl Facts<'_> {
    /// A value in SI.
    #[inline(always)]
    pub fn si<D>(&self, key: &Key<D>) -> Option<f64> {
        self.numbers.si(key.slot)
    }
    /// A value as the reader writes it, or a dash.
    pub fn text<D>(&self, key: &Key<D>) -> String {
        match self.numbers.get(key) {
            Some(value) => show::of(value, key.unit, self.style),
            None => "–".into(),
        }
    }
    /// Another quantity as the reader writes it.
    pub fn quantity<D>(&self, si: f64, key: &Key<D>) -> String {
        show::of(Q::si(si), key.unit, self.style)
    }
    /// `limit ÷ value − 1`: how far a value is below what it may be. What misses by the last bits of its arithmetic meets it.
    #[inline(always)]
    pub fn below<A, B>(&self, value: &Key<A>, limit: &Key<B>) -> Option<f64> {
        let margin = self.si(limit)? / self.si(value)? - 1.0;
        Some(if margin.abs() < LAST_BITS { 0.0 } else { margin })
    }
    /// `value ÷ limit − 1`: how far a value is above what it must be.
    #[inline(always)]
    pub fn above<A, B>(&self, value: &Key<A>, limit: &Key<B>) -> Option<f64> {
        self.below(limit, value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_unique_plain_and_match_their_file() {
        for (at, check) in ALL.iter().enumerate() {
            assert!(check.code.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", check.code);
            assert!(ALL[at + 1..].iter().all(|other| other.code != check.code), "{}", check.code);
            assert!(!check.about.is_empty() && check.why.len() > 60, "{}", check.code);
            for id in check.about {
                assert!(crate::chain::keys::slot(id).is_some(), "{}: {id}", check.code);
            }
        }
        assert!(ALL.len() >= 28);
    }
}
