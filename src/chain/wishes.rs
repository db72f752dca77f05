//! What a plan asks for, in numbers, before anything is decided. A mend, a search and an edit state one more number here and settle again.

use super::given::{Given, TwistBy};
use super::hardware::{self, Parts};
use super::keys as id;
use super::lay::Table;
use super::settle::{Decision, Open, Unsettled, settle};
use crate::units::*;
use std::sync::Arc;

/// How the finished width is found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Width {
    /// The article's own, or the plan's.
    Fixed(Q<Length>),
    /// The one within the loom that wastes least.
    Open,
}

/// Stated and assumed numbers, and what is open.
#[derive(Clone)]
pub struct Wishes {
    pub given: Given,
    pub open: Open,
    /// Sett as a share of the closest.
    pub firmness: f64,
    /// Mass of the finished cloth that was wished.
    pub mass: Option<Q<AreaMass>>,
    pub width: Width,
    pub lay: Arc<Table>,
    /// Hardware left open.
    pub parts: Parts,
}

impl Wishes {
    /// Decides what is open, at the middle of every doubt.
    pub fn settle(&self) -> Result<(Given, Vec<Decision>), Unsettled> {
        let (mut given, mut made) = self.settle_threads()?;
        self.settle_width(&mut given, &mut made);
        hardware::decide(&mut given, &self.parts, &mut made);
        Ok((given, made))
    }

    /// Decides yarn, sett and picks alone, which do not depend on the lay.
    pub fn settle_threads(&self) -> Result<(Given, Vec<Decision>), Unsettled> {
        let Some(closest) = self.parts.heddles else { return self.threads_on(None) };
        let mut heddles = 1;
        loop {
            let (given, made) = self.threads_on(Some(heddles))?;
            let sett = given.get(&id::SETT_IN_REED).map_or(0.0, Q::to_si);
            if sett <= closest * f64::from(heddles) || heddles == hardware::MOST_HEDDLES {
                return Ok((given, made));
            }
            heddles += 1;
        }
    }

    fn threads_on(&self, heddles: Option<u32>) -> Result<(Given, Vec<Decision>), Unsettled> {
        let mut given = self.given.clone();
        let mut open = self.open;
        let mut made = Vec::new();
        if let Some(heddles) = heddles {
            given.set(&id::HEDDLES, Q::si(f64::from(heddles)));
            made.push(Decision {
                slot: id::HEDDLES.slot,
                why: "as few as this way of making them allows at this sett",
            });
        }
        if open.sett && self.sett_from_heddle(&mut given) {
            open.sett = false;
            made.push(Decision { slot: id::SETT_IN_REED.slot, why: "what the heddle has" });
        }
        if let Some(mass) = self.mass {
            given.set(&id::MASS_WISHED, mass);
        }
        made.extend(settle(&mut given, &open, self.firmness, self.mass.map(Q::to_si))?);
        Ok((given, made))
    }

    /// A heddle that is there, by its own sett or by blade and slot, fixes the sett of the cloth.
    fn sett_from_heddle(&self, given: &mut Given) -> bool {
        let heddles = given.get(&id::HEDDLES).map_or(1.0, Q::to_si);
        let of_one = match (given.get(&id::HEDDLE_SETT), given.get(&id::GAP), given.get(&id::BLADE)) {
            (Some(sett), _, _) => sett.to_si(),
            (None, Some(gap), Some(blade)) => 2.0 / (gap.to_si() + blade.to_si()),
            _ => return false,
        };
        given.set(&id::SETT_IN_REED, Q::si(of_one * heddles));
        true
    }

    fn settle_width(&self, given: &mut Given, made: &mut Vec<Decision>) {
        let row = match self.width {
            Width::Fixed(width) => {
                given.set(&id::LAY_WIDTH, width);
                self.lay.at(width)
            }
            Width::Open => {
                let waste = given.get(&id::WASTE_FRONT).map_or(0.0, Q::to_si)
                    + given.get(&id::WASTE_BACK).map_or(0.0, Q::to_si);
                let row = self.lay.least(self.greatest_width(given), Q::si(waste));
                if let Some(row) = row {
                    given.set(&id::LAY_WIDTH, row.width);
                    made.push(Decision {
                        slot: id::LAY_WIDTH.slot,
                        why: "of the widths the loom takes that split fewest pieces, the one with the least cloth, its waste counted",
                    });
                }
                row
            }
        };
        if let Some(row) = row {
            row.state(given);
        }
    }

    /// Widest finished cloth the loom takes: forward through draw-in, edges and wash.
    pub fn greatest_width(&self, given: &Given) -> Q<Length> {
        let Some(loom) = given.get(&id::WEAVING_WIDTH) else { return Q::si(f64::MAX) };
        let value = |key| given.get(key).map_or(0.0, Q::to_si);
        let draw_in = super::settle::draw_in(given);
        let edges = given.get(&id::EDGE_DRAW_IN).map_or(0.0, Q::to_si);
        Q::si((loom.to_si() * (1.0 - draw_in) - edges) * (1.0 - value(&id::SHRINK_WIDTH)))
    }

    /// States a number, as if the plan had said it.
    pub fn state(&mut self, slot: u16, si: f64) {
        let is = |other: u16| slot == other;
        if is(id::FIRMNESS.slot) {
            self.firmness = si;
        } else if is(id::MASS_WISHED.slot) {
            self.mass = Some(Q::si(si));
        } else if is(id::LAY_WIDTH.slot) {
            self.width = Width::Fixed(Q::si(si));
        } else {
            self.close(slot);
            self.given.set_si(slot, si);
        }
    }

    /// What was open and is now stated.
    fn close(&mut self, slot: u16) {
        self.close_part(slot);
        if slot == id::WARP_COUNT.slot {
            self.open.warp_count = false;
        } else if slot == id::WEFT_COUNT.slot {
            (self.open.weft_count, self.open.same_yarn) = (false, false);
        } else if slot == id::SETT_IN_REED.slot {
            self.open.sett = false;
        } else if slot == id::PICKS_OFF_LOOM.slot {
            (self.open.balanced, self.open.picks_on_loom) = (false, false);
        } else if slot == id::WARP_MULTIPLIER.slot {
            self.given.choices.warp_twist = TwistBy::Multiplier;
        } else if slot == id::WEFT_MULTIPLIER.slot {
            self.open.same_yarn = false;
            self.given.choices.weft_twist = TwistBy::Multiplier;
        }
    }

    /// A part that was open and is now stated.
    fn close_part(&mut self, slot: u16) {
        let parts = &mut self.parts;
        if slot == id::HEDDLES.slot {
            parts.heddles = None;
        } else if slot == id::EYE.slot {
            parts.eye = false;
        } else if slot == id::BLADE.slot {
            parts.blade = false;
        } else if slot == id::BEAM_DIAMETER.slot {
            parts.beam = false;
        } else if slot == id::TEETH.slot {
            parts.teeth = false;
        } else if slot == id::SPINDLE_PULLEY.slot {
            parts.spindle_pulley = false;
        }
    }
}
