//! Taking overlaps apart by guided local search: every copy that overlaps is moved to a better place; pairs that go on
//! overlapping count more and more, so that the search climbs out of where it is stuck (Elkeran 2013; Gardeyn, Vanden Berghe
//! and Wauters 2025).

use super::chance::Chance;
use super::seek::{Throws, better_place};
use super::table::{Spot, Table};

/// Growth of a pair's weight for the least and the worst overlap, and its fading without one.
const PRESS: (f32, f32, f32) = (1.1, 1.5, 0.95);
const THROWS: Throws = Throws { wide: 12, near: 8 };
/// A strike is a run of fruitless passes; one that gained this share does not count.
const WORTH: f32 = 0.98;

/// How long to go on without gain.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patience {
    /// Passes without a new least total.
    pub passes: u32,
    /// Such runs in a row.
    pub strikes: u32,
}

/// How a separation stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    Going,
    /// Nothing overlaps.
    Apart,
    /// Out of patience.
    Stuck,
}

/// One try to take a table's overlaps apart.
#[derive(Clone, Debug)]
pub(super) struct Separation {
    patience: Patience,
    fruitless: u32,
    strikes: u32,
    /// Least total so far, and where everything lay.
    pub least: f32,
    pub best: Vec<Spot>,
    least_at_strike: f32,
}

impl Separation {
    pub fn new(table: &mut Table, patience: Patience) -> Self {
        table.reset_weights();
        let least = table.total();
        Separation { patience, fruitless: 0, strikes: 0, least, best: table.spots(), least_at_strike: least }
    }

    /// One pass over all copies that overlap, cut short where `stop`, given the evaluations made, says so.
    pub fn pass(&mut self, table: &mut Table, chance: &mut Chance, stop: &dyn Fn(u64) -> bool) -> Standing {
        if self.least == 0.0 {
            return Standing::Apart;
        }
        let mut order: Vec<usize> = (0..table.len()).filter(|i| table.collides(*i)).collect();
        chance.shuffle(&mut order);
        for i in order {
            if stop(table.evaluations) {
                return Standing::Going;
            }
            if table.collides(i) {
                let priced = better_place(table, i, THROWS, chance);
                table.put(i, priced.spot);
            }
        }
        table.press(PRESS.0, PRESS.1, PRESS.2);
        let total = table.total();
        if total < self.least {
            let gain = total < self.least * WORTH;
            self.least = total;
            self.best = table.spots();
            self.fruitless = if gain { 0 } else { self.fruitless + 1 };
        } else {
            self.fruitless += 1;
        }
        if total == 0.0 {
            return Standing::Apart;
        }
        if self.fruitless >= self.patience.passes { self.strike(table) } else { Standing::Going }
    }

    /// Goes back to the best arrangement with the weights as they are; stuck after too many strikes in a row.
    fn strike(&mut self, table: &mut Table) -> Standing {
        self.strikes = if self.least < self.least_at_strike * WORTH { 0 } else { self.strikes + 1 };
        self.least_at_strike = self.least;
        self.fruitless = 0;
        for (i, spot) in self.best.iter().enumerate() {
            table.put(i, *spot);
        }
        if self.strikes >= self.patience.strikes { Standing::Stuck } else { Standing::Going }
    }
}
