//! A two-beam loom for a rigid heddle, laid out from the cloth backwards: positions, parts with marks, joints, structure,
//! build order.
//!
//! The frame stands on four legs. Two side rails carry everything: breast and back bar on top, the two beams in holes through
//! them, the heddle rests on them. The cloth beam lies behind the weaver's knees. Inside, lengths are millimetres: x across,
//! y from the breast bar back, z up from the floor.

pub mod parts;
pub mod sitter;
pub mod sold;
pub mod steps;
pub mod structure;

pub use parts::{Joint, Piece, Stuff};
pub use sitter::Sitter;
pub use sold::Bar;
pub use steps::Step;
pub use structure::Finding;

use crate::machine::Refusal;
use crate::machine::heddle::Heddle;
use crate::machine::ratchet::{self, Wheel};
use crate::machine::shape::Outline;
use crate::trade::stock::System;
use crate::trade::timber::Timber;
use crate::units::{Force, Length, M, MM, N, Q};

/// Cross-section of a beam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Section {
    /// Solid rod.
    Round,
    /// Solid square.
    Square,
    /// Round tube of this wall.
    Tube { wall: Q<Length> },
}

/// What stiffens the frame against leaning sideways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stiffening {
    /// Nothing but the bolts of legs and stretchers.
    Bare,
    /// A shelf board between the legs.
    Shelf,
    /// Two diagonals at the back.
    Brace,
}

/// What it stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// Own legs on the floor.
    Floor,
    /// Without legs, clamped to a table.
    Table,
}

/// A loom asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct LoomWish {
    /// Widest warp it takes.
    pub weaving_width: Q<Length>,
    /// This warp: ends and width in the heddle.
    pub ends: u32,
    pub width_in_reed: Q<Length>,
    pub fell_to_heddle: Q<Length>,
    pub heddle_to_back: Q<Length>,
    pub lift: Q<Length>,
    pub shuttle_height: Q<Length>,
    pub shuttle_width: Q<Length>,
    /// Left open: half the weaving width.
    pub shuttle_length: Option<Q<Length>>,
    /// Beam; diameter left open when the thinnest that will do is to be found.
    pub section: Section,
    pub beam: Option<Q<Length>>,
    /// Between the side rails; left open, 80 mm more than the weaving width.
    pub span: Option<Q<Length>>,
    pub teeth: u32,
    pub pawls: u32,
    /// Of the ratchet wheel over its teeth; left open, the smallest that holds.
    pub wheel: Option<Q<Length>>,
    pub timber: &'static Timber,
    pub system: System,
    /// Pull of the whole warp, mean and at the greatest moment.
    pub tension: Q<Force>,
    pub peak: Q<Force>,
    /// Stretch of the warp at the mean pull, share.
    pub strain: f64,
    pub warp_length: Q<Length>,
    /// One layer of the roll, paper or stick shared in.
    pub layer: Q<Length>,
    pub heddle: Heddle,
    pub stands: Stands,
    pub stiffening: Stiffening,
    /// Warp above floor or table; left open, at the weaver's elbow.
    pub height: Option<Q<Length>>,
    pub sitter: Sitter,
}

/// Where things are, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layout {
    /// Inside the side rails.
    pub span: f64,
    /// Outside the side rails.
    pub wide: f64,
    /// From the breast bar's front to the back bar's back.
    pub deep: f64,
    /// Height of the warp.
    pub warp: f64,
    pub rail_thick: f64,
    pub rail_high: f64,
    /// Breast and back bar: height, depth along the warp, and the board (or two glued together) they are made of.
    pub bar: f64,
    pub bar_deep: f64,
    pub bar_of: Bar,
    pub leg_thick: f64,
    pub leg_wide: f64,
    /// y of bars' middles, fell, first and last heddle or shaft.
    pub breast: f64,
    pub fell: f64,
    pub heddles: [f64; 2],
    pub back: f64,
    /// (y, z) of the beams' middles.
    pub cloth_beam: (f64, f64),
    pub warp_beam: (f64, f64),
    pub beam: f64,
    pub journal: f64,
    /// Full roll on the warp beam.
    pub roll: f64,
    /// y of the legs' middles.
    pub legs: [f64; 2],
    /// z of the foot rails' middle.
    pub foot: f64,
}

impl Layout {
    /// z of the side rails' top.
    pub fn rail_top(&self) -> f64 {
        self.warp - self.bar
    }
}

/// A loom worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Loom {
    pub wish: LoomWish,
    pub layout: Layout,
    pub wheel: Wheel,
    pub parts: Vec<Piece>,
    pub joints: Vec<Joint>,
    pub findings: Vec<Finding>,
    pub steps: Vec<Step>,
    /// Outlines to saw, cut or print: ratchet and pawl.
    pub ratchet: Outline,
    pub pawl: Outline,
}

impl Loom {
    /// The part of a mark.
    pub fn part(&self, mark: &str) -> Option<&Piece> {
        self.parts.iter().find(|p| p.mark == mark)
    }
    /// What does not hold.
    pub fn failed(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|f| !f.passes)
    }
}

/// Distance between two heddles or shafts that stand together.
pub const HEDDLE_SPACING: f64 = 25.0;
/// Room between the breast bar and the last fell.
const FRONT_ROOM: f64 = 60.0;
/// Journal of a beam in the rail, by the drill of either system.
const JOURNAL: (f64, f64) = (25.0, 25.4);

/// Lays out the loom.
///
/// # Errors
/// Sizes no loom has, a beam that no rod on the shelf is stiff enough for, a ratchet that cannot be made.
pub fn design(wish: &LoomWish) -> Result<Loom, Refusal> {
    check(wish)?;
    let beam = match wish.beam {
        Some(d) => d.get(&MM),
        None => structure::thinnest_beam(wish)?,
    };
    let layout = structure::straight_bars(wish, beam)?;
    let wheel = structure::wheel(wish, &layout);
    let outline = ratchet::wheel(&wheel)?;
    let tooth = std::f64::consts::PI * wheel.diameter / f64::from(wheel.teeth);
    let pawl = ratchet::pawl(wheel.diameter * 0.55, (tooth * 0.45).max(2.5), 6.0)?;
    let mut loom = Loom {
        wish: wish.clone(),
        layout,
        wheel,
        parts: Vec::new(),
        joints: Vec::new(),
        findings: Vec::new(),
        steps: Vec::new(),
        ratchet: outline,
        pawl,
    };
    loom.parts = parts::list(&loom);
    loom.joints = parts::joints(&loom);
    loom.findings = structure::findings(&loom);
    loom.steps = steps::order(&loom);
    Ok(loom)
}

fn lay_out(wish: &LoomWish, beam: f64, bar_of: Bar) -> Result<Layout, Refusal> {
    let s = sold::Shelf::of(wish.system);
    let span = wish.span.map_or_else(|| wish.weaving_width.get(&MM) + 80.0, |q| q.get(&MM));
    let (bar, deep) = (bar_of.high(), bar_of.deep());
    let breast = deep / 2.0;
    let fell = breast + FRONT_ROOM;
    let first = fell + wish.fell_to_heddle.get(&MM);
    let last = first + HEDDLE_SPACING * f64::from(wish.heddle.wish.frames() - 1);
    let back = first + wish.heddle_to_back.get(&MM);
    let layer = wish.layer.get(&MM);
    let roll = (crate::formulas::loom::ROLL_DIAMETER.code)([beam, layer, wish.warp_length.get(&M)]);
    let warp = match (wish.height, wish.stands) {
        (Some(height), _) => height.get(&MM),
        (None, Stands::Floor) => wish.sitter.elbow_height(),
        // On a table the frame's own height: rail and a foot of 20 mm.
        (None, Stands::Table) => s.rail.wide + bar + 20.0,
    };
    let drop = s.rail.wide - 42.0;
    let axis = warp - bar - drop;
    let room = drop + bar - roll / 2.0;
    if room < wish.lift.get(&MM) + 10.0 {
        return Err(Refusal::new(
            "beam",
            format!(
                "a full roll is {} thick and would touch the lowered warp: a shorter warp, thinner paper between the layers, or a thinner beam",
                wish.system.ruler().says(roll)
            ),
        ));
    }
    let leg_wide = s.leg.wide.max(s.leg.thick);
    Ok(Layout {
        span,
        wide: span + 2.0 * s.rail.thick,
        deep: back + deep / 2.0,
        warp,
        rail_thick: s.rail.thick,
        rail_high: s.rail.wide,
        bar,
        bar_deep: deep,
        bar_of,
        leg_thick: s.leg.wide.min(s.leg.thick),
        leg_wide,
        breast,
        fell,
        heddles: [first, last],
        back,
        cloth_beam: ((breast + 150.0).min(first - 20.0), axis),
        warp_beam: (back - 40.0 - beam / 2.0, axis),
        beam,
        journal: wish.system.ruler().of(JOURNAL.0, JOURNAL.1).min(beam),
        roll,
        legs: [leg_wide / 2.0, back + deep / 2.0 - leg_wide / 2.0],
        foot: 150.0,
    })
}

fn check(w: &LoomWish) -> Result<(), Refusal> {
    let ruler = w.system.ruler();
    let number = |about, name: &str, value: f64, low: f64, high: f64, unit: &str| {
        if value >= low && value <= high {
            return Ok(());
        }
        if unit == "mm" {
            let [value, low, high] = [value, low, high].map(|v| ruler.bare(v));
            let unit = ruler.unit();
            let words = format!("a {name} of {value} {unit} was given; {low} to {high} {unit} is accepted");
            return Err(Refusal::new(about, words));
        }
        Err(Refusal::new(about, format!("a {name} of {value} {unit} was given; {low} to {high} {unit} is accepted")))
    };
    number("loom", "weaving width", w.weaving_width.get(&MM), 100.0, 1800.0, "mm")?;
    number("loom", "warp", w.width_in_reed.get(&MM), 10.0, w.weaving_width.get(&MM), "mm")?;
    number("depth", "depth from fell to heddle", w.fell_to_heddle.get(&MM), 60.0, 400.0, "mm")?;
    number("depth", "depth from heddle to back bar", w.heddle_to_back.get(&MM), 100.0, 1500.0, "mm")?;
    number("shed", "lift", w.lift.get(&MM), 5.0, 80.0, "mm")?;
    number("shuttle", "shuttle height", w.shuttle_height.get(&MM), 3.0, 60.0, "mm")?;
    number("shuttle", "shuttle width", w.shuttle_width.get(&MM), 5.0, 100.0, "mm")?;
    if let Some(d) = w.beam {
        number("beam", "beam diameter", d.get(&MM), 3.0, 200.0, "mm")?;
    }
    if let Section::Tube { wall } = w.section {
        number("beam", "tube wall", wall.get(&MM), 0.5, 10.0, "mm")?;
    }
    if let Some(height) = w.height {
        // Legs need room for two rails; a table loom for one.
        let least = if w.stands == Stands::Floor { 420.0 } else { 210.0 };
        number("frame", "height", height.get(&MM), least, 1500.0, "mm")?;
    }
    if let Some(s) = w.span {
        number("beam", "span", s.get(&MM), w.weaving_width.get(&MM) + 20.0, 2400.0, "mm")?;
    }
    number("loom", "warp tension", w.tension.get(&N), 1.0, 5000.0, "N")?;
    number("loom", "peak tension", w.peak.get(&N), w.tension.get(&N), 20_000.0, "N")?;
    number("loom", "warp stretch", w.strain, 1e-5, 0.3, "")?;
    number("loom", "warp length", w.warp_length.get(&M), 0.2, 100.0, "m")?;
    number("loom", "layer on the roll", w.layer.get(&MM), 0.05, 8.0, "mm")
}

#[cfg(test)]
pub(crate) mod tests;
