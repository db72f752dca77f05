//! What a run starts from: the plan with text, spans and wishes gone. One array by id, so that a doubt, a knob of a check, a search and a
//! plan key are all the same thing: a slot.

use super::keys::{self as id, ALL, IDS};
use crate::formulas::registry::{Key, Mode, V};
use crate::print::Method;
use crate::trade::fibres::Plant;
use crate::units::Q;

/// How the fibre's fineness was stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FinenessBy {
    Micronaire,
    Diameter,
    Count,
}

/// What stays fixed when the count of a yarn moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TwistBy {
    /// The multiplier; turns follow the count.
    Multiplier,
    /// The turns; the multiplier follows.
    Turns,
}

/// Which part of the spindle the belt drives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drive {
    /// The flyer; the bobbin is braked and lags.
    Flyer,
    /// The bobbin; the flyer is braked and lags.
    Bobbin,
    /// One band on both whorls; the bobbin's slips.
    Both,
}

/// Section of the beams.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BeamSection {
    Round,
    Square,
}

/// What is chosen rather than measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choices {
    pub plant: Plant,
    pub fineness: FinenessBy,
    pub warp_twist: TwistBy,
    pub weft_twist: TwistBy,
    pub drive: Drive,
    /// Pulleys were measured at their groove bottoms.
    pub groove_bottoms: bool,
    pub beam: BeamSection,
    /// The picture is printed before the cloth's wash.
    pub print_before_wash: bool,
    /// How the picture gets onto the cloth.
    pub print_method: Method,
}

impl Default for Choices {
    fn default() -> Self {
        Choices {
            plant: Plant::Cotton,
            fineness: FinenessBy::Micronaire,
            warp_twist: TwistBy::Multiplier,
            weft_twist: TwistBy::Multiplier,
            drive: Drive::Flyer,
            groove_bottoms: false,
            beam: BeamSection::Round,
            print_before_wash: false,
            print_method: Method::Screen,
        }
    }
}

/// Values by id, absent where the plan has none, and the choices.
#[derive(Clone)]
pub struct Given {
    values: [f64; IDS],
    pub choices: Choices,
}

impl Default for Given {
    fn default() -> Self {
        Given { values: [f64::NAN; IDS], choices: Choices::default() }
    }
}

impl Given {
    /// The value of an id, where there is one.
    #[inline(always)]
    pub fn get<D>(&self, key: &Key<D>) -> Option<Q<D>> {
        self.si(key.slot).map(Q::si)
    }
    /// The same by slot, in SI.
    #[inline(always)]
    pub fn si(&self, slot: u16) -> Option<f64> {
        let value = self.values[slot as usize];
        (!value.is_nan()).then_some(value)
    }
    /// Sets an id.
    #[inline(always)]
    pub fn set<D>(&mut self, key: &Key<D>, value: Q<D>) {
        self.set_si(key.slot, value.to_si());
    }
    /// Sets a slot, in SI.
    #[inline(always)]
    pub fn set_si(&mut self, slot: u16, si: f64) {
        debug_assert!(si.is_finite(), "{} is {si}", ALL[slot as usize].name);
        self.values[slot as usize] = si;
    }
    /// Sets an id only where it has no value yet.
    pub fn set_where_absent<D>(&mut self, key: &Key<D>, value: Q<D>) {
        if self.get(key).is_none() {
            self.set(key, value);
        }
    }
    /// Takes an id away, to be decided again.
    pub fn forget<D>(&mut self, key: &Key<D>) {
        self.values[key.slot as usize] = f64::NAN;
    }
    /// Hands a value into the run, where there is one.
    #[inline(always)]
    pub fn hand<D, M: Mode>(&self, mode: &mut M, key: &Key<D>) -> Option<V<D, M>> {
        let q = self.get(key)?;
        Some(V { q, tag: mode.given(key, q) })
    }
    /// Hands a value that every plan has once it is settled.
    #[inline(always)]
    pub fn need<D, M: Mode>(&self, mode: &mut M, key: &Key<D>) -> V<D, M> {
        let q = Q::si(self.values[key.slot as usize]);
        debug_assert!(!q.to_si().is_nan(), "{} was not settled", key.name);
        V { q, tag: mode.given(key, q) }
    }
    /// The weft as the warp's yarn, value for value.
    pub fn copy_warp_to_weft(&mut self) {
        for (from, to) in ONE_YARN {
            self.values[*to as usize] = self.values[*from as usize];
        }
        self.choices.weft_twist = self.choices.warp_twist;
    }
}

/// Inputs that are the same where one yarn is both.
pub static ONE_YARN: &[(u16, u16)] = &[
    (id::WARP_COUNT.slot, id::WEFT_COUNT.slot),
    (id::WARP_PLIES.slot, id::WEFT_PLIES.slot),
    (id::WARP_PACKING.slot, id::WEFT_PACKING.slot),
    (id::WARP_MULTIPLIER.slot, id::WEFT_MULTIPLIER.slot),
    (id::WARP_TWIST.slot, id::WEFT_TWIST.slot),
    (id::WARP_PLY_TWIST.slot, id::WEFT_PLY_TWIST.slot),
];
