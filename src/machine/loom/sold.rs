//! What the loom is made of as a shop of either system sells it: boards, bars, screws and bolts.

use crate::trade::stock::{self, System};
use crate::units::ruler::Ruler;

/// A screw or bolt as the shop calls it, with its diameter and length, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fixing {
    pub name: &'static str,
    pub diameter: f64,
    pub long: f64,
}

/// The screws and bolts used, by system; wood screws by the inch have the shank of their gauge.
#[derive(Clone, Copy, Debug)]
pub struct Fixings {
    /// Rails, braces, cleats.
    pub screw: Fixing,
    /// A bar of one board on the rails.
    pub bar: Fixing,
    /// A bar of two boards on edge, with the depth its screws' heads are sunk, mm.
    pub high_bar: (Fixing, f64),
    /// Legs on rails.
    pub bolt: Fixing,
    /// The pawls' pivots.
    pub pivot: Fixing,
}

impl Fixings {
    /// Those of a system.
    pub fn of(system: System) -> Fixings {
        let fixing = |name, diameter, long| Fixing { name, diameter, long };
        match system {
            System::Metric => Fixings {
                screw: fixing("5 x 60", 5.0, 60.0),
                bar: fixing("5 x 80", 5.0, 80.0),
                high_bar: (fixing("6 x 120", 6.0, 120.0), 30.0),
                bolt: fixing("M8 x 90", 8.0, 90.0),
                pivot: fixing("M6 x 90", 6.0, 90.0),
            },
            System::Inch => Fixings {
                screw: fixing("No. 10 x 2 1/2 in", 4.83, 63.5),
                bar: fixing("No. 10 x 3 in", 4.83, 76.2),
                high_bar: (fixing("No. 14 x 4 in", 6.15, 101.6), 31.75),
                bolt: fixing("5/16 x 3 1/2 in", 7.94, 88.9),
                pivot: fixing("1/4 x 3 1/2 in", 6.35, 88.9),
            },
        }
    }
}

/// The board sections used, by system.
#[derive(Clone, Copy)]
pub struct Shelf {
    pub rail: &'static stock::Section,
    pub leg: &'static stock::Section,
    pub cross: &'static stock::Section,
    /// Braces, heddle bars, shuttles, and what is planed from a thin board.
    pub lath: &'static stock::Section,
}

impl Shelf {
    /// The boards of a system.
    pub fn of(system: System) -> Shelf {
        let names = match system {
            System::Metric => ["27x144", "44x69", "27x94", "18x44"],
            System::Inch => ["5/4x6", "2x3", "5/4x4", "1x2"],
        };
        let [rail, leg, cross, lath] = names.map(section);
        Shelf { rail, leg, cross, lath }
    }
}

/// Radius of the edges that threads run over, mm.
pub(super) const ROUNDED: f64 = 12.0;

fn section(name: &str) -> &'static stock::Section {
    stock::Section::find(name).unwrap_or(&stock::SECTIONS[0])
}

/// What breast and back bar are made of: one board laid flat, or two glued face to face and stood on edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    pub section: &'static stock::Section,
    pub glued: bool,
}

impl Bar {
    /// Bars to choose from, the lightest first; each is stiffer than the one before, both ways.
    pub(super) fn of(system: System) -> [Bar; 4] {
        let names = match system {
            System::Metric => ["44x44", "44x69", "44x69", "44x94"],
            System::Inch => ["2x2", "2x3", "2x3", "2x4"],
        };
        let [plain, flat, pair, wide] = names.map(section);
        let bar = |section, glued| Bar { section, glued };
        [bar(plain, false), bar(flat, false), bar(pair, true), bar(wide, true)]
    }
    /// Height, mm.
    pub fn high(&self) -> f64 {
        if self.glued { self.section.wide } else { self.section.thick }
    }
    /// Along the warp, mm.
    pub fn deep(&self) -> f64 {
        if self.glued { 2.0 * self.section.thick } else { self.section.wide }
    }
    /// Boards in one bar.
    pub(super) fn boards(&self) -> u32 {
        if self.glued { 2 } else { 1 }
    }
    /// What the list says of it.
    pub(super) fn note(&self, ruler: Ruler) -> String {
        let laid = if self.glued {
            "two boards glued face to face, stood on edge; "
        } else if self.section.wide > self.section.thick {
            "laid flat; "
        } else {
            ""
        };
        format!("{laid}upper edges rounded to {}, sanded, waxed", ruler.about(ROUNDED))
    }
}
