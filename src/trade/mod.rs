//! Tables of the trade: fibres, timbers, twist, losses, each row with its source.

pub mod fibres;
pub mod body;
pub mod stock;
pub mod timber;
pub mod wire;

use crate::formulas::registry::{Evidence, Source};
use crate::units::{Q, Unit};

/// What the trade knows of a number: a middle and the usual range of it, in a unit, with where that stands. `low` and `high` are taken as
/// the 10 % and 90 % points of the value to plan with.
pub struct Fact<D: 'static> {
    pub middle: f64,
    pub low: f64,
    pub high: f64,
    pub unit: &'static Unit<D>,
    pub source: Source,
    pub evidence: Evidence,
}

impl<D> Clone for Fact<D> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<D> Copy for Fact<D> {}

/// A fact with its unit's type gone and the words for what it is, for tables.
#[derive(Clone, Copy, Debug)]
pub struct Line {
    pub says: &'static str,
    pub middle: f64,
    pub low: f64,
    pub high: f64,
    pub unit: &'static str,
    pub source: Source,
    pub evidence: Evidence,
}

impl<D> Fact<D> {
    /// The same as a line of a table.
    pub fn line(&self, says: &'static str) -> Line {
        let Fact { middle, low, high, unit, source, evidence } = *self;
        Line { says, middle, low, high, unit: unit.name, source, evidence }
    }
    /// The middle as a quantity.
    pub fn value(&self) -> Q<D> {
        Q::new(self.middle, self.unit)
    }
}

/// A fact as one line of a table.
pub const fn fact<D>(
    middle: f64,
    low: f64,
    high: f64,
    unit: &'static Unit<D>,
    evidence: Evidence,
    key: &'static str,
    at: &'static str,
) -> Fact<D> {
    Fact { middle, low, high, unit, source: Source { key, at }, evidence }
}
