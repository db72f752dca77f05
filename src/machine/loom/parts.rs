//! The loom's parts with marks, sizes and stuff, and what joins them.

use super::sold::{Fixing, Fixings, Shelf};
use super::{Layout, Loom, Section, Stands, Stiffening};
use crate::machine::heddle::{RIM, SIDE, Style, Tie};
use crate::trade::stock;
use crate::units::{G, KG, Kind, MM, Mass, Q, show};
use std::f64::consts::PI;

/// What a part is made of.
#[derive(Clone, Debug, PartialEq)]
pub enum Stuff {
    /// A board: shop name, true thickness and width, length.
    Board { section: &'static str, thick: f64, wide: f64, long: f64 },
    /// A rod: diameter, length.
    Rod { diameter: f64, long: f64 },
    /// A tube: outer diameter, wall, length.
    Tube { diameter: f64, wall: f64, long: f64 },
    /// Cut from sheet or printed: thickness and area.
    Sheet { thick: f64, area: f64 },
    /// Bought as it is.
    Bought,
}

/// A part.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    pub mark: String,
    pub name: &'static str,
    pub stuff: Stuff,
    /// Species, "steel", "birch plywood", or empty for bought things.
    pub of: &'static str,
    pub how_many: u32,
    pub note: String,
}

impl Piece {
    /// Length to saw, mm; nothing for sheets and bought things.
    pub fn length(&self) -> Option<f64> {
        match self.stuff {
            Stuff::Board { long, .. } | Stuff::Rod { long, .. } | Stuff::Tube { long, .. } => Some(long),
            _ => None,
        }
    }
    /// Volume of one, mm³.
    pub fn volume(&self) -> f64 {
        match self.stuff {
            Stuff::Board { thick, wide, long, .. } => thick * wide * long,
            Stuff::Rod { diameter, long } => PI / 4.0 * diameter * diameter * long,
            Stuff::Tube { diameter, wall, long } => PI * wall * (diameter - wall) * long,
            Stuff::Sheet { thick, area } => thick * area,
            Stuff::Bought => 0.0,
        }
    }
    /// Mass of all of it, at a density in g/cm³.
    pub fn mass(&self, density: f64) -> Q<Mass> {
        Q::new(self.volume() * f64::from(self.how_many) * density / 1000.0, &G)
    }
}

/// Two parts joined.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joint {
    pub between: (&'static str, &'static str),
    pub words: String,
}

fn board(section: &'static stock::Section, long: f64) -> Stuff {
    Stuff::Board { section: section.name, thick: section.thick, wide: section.wide, long: long.round() }
}

/// Every part.
pub(super) fn list(loom: &Loom) -> Vec<Piece> {
    let mut out = frame(loom);
    out.extend(beams(loom));
    out.extend(warp_gear(loom));
    out.extend(heddle(loom));
    out.extend(holding(loom));
    out
}

struct Maker<'a>(&'a Loom);

impl Maker<'_> {
    fn wood(&self, mark: &str, name: &'static str, stuff: Stuff, how_many: u32, note: &str) -> Piece {
        let of = if self.0.wish.timber.metal { "sugar pine" } else { self.0.wish.timber.name };
        Piece { mark: mark.into(), name, stuff, of, how_many, note: note.into() }
    }
}

fn frame(loom: &Loom) -> Vec<Piece> {
    let (l, s, m) = (&loom.layout, Shelf::of(loom.wish.system), Maker(loom));
    let mut out = vec![m.wood("A1", "side rail", board(s.rail, l.deep), 2, "holes for the beams, one left, one right")];
    if loom.wish.stands == Stands::Table {
        out.push(m.wood("A4", "cross rail", board(s.cross, l.span), 2, "between the side rails, low"));
        return out;
    }
    out.push(m.wood("A2", "leg", board(s.leg, l.rail_top()), 4, "outside the rails, flush with their tops"));
    out.push(m.wood(
        "A3",
        "foot rail",
        board(s.cross, l.deep),
        2,
        &format!("inside the legs, {} up", loom.wish.system.ruler().says(l.foot)),
    ));
    out.push(m.wood("A4", "cross rail", board(s.cross, l.span), 2, "between the foot rails"));
    out.push(m.wood(
        "A5",
        "top cross rail",
        board(s.cross, l.span),
        1,
        "between the side rails, at the back, under the back bar",
    ));
    match loom.wish.stiffening {
        Stiffening::Brace => {
            out.push(m.wood("A6", "brace", board(s.lath, brace_length(l)), 2, "crossed, behind the back legs"))
        }
        Stiffening::Shelf => out.push(m.wood(
            "A7",
            "shelf",
            board(s.rail, l.span),
            2,
            "at half height, on cleats inside the legs, two screws at each end",
        )),
        Stiffening::Bare => {}
    }
    out
}

/// Length of a diagonal at the back.
pub(super) fn brace_length(l: &Layout) -> f64 {
    libm::hypot(l.span, l.rail_top() - l.foot - 60.0).ceil()
}

fn beams(loom: &Loom) -> Vec<Piece> {
    let (l, m, bar, ruler) = (&loom.layout, Maker(loom), loom.layout.bar_of, loom.wish.system.ruler());
    // Through both rails and legs, the ratchet and the handle outside on one side.
    let outside = l.rail_thick + l.leg_thick;
    let long = (l.span + 2.0 * outside + loom.wheel.thick + 55.0).round();
    let stuff = match loom.wish.section {
        Section::Round => Stuff::Rod { diameter: l.beam, long },
        Section::Square => Stuff::Board { section: "square", thick: l.beam, wide: l.beam, long },
        Section::Tube { wall } => Stuff::Tube { diameter: l.beam, wall: wall.get(&MM), long },
    };
    let note = format!("ends turned to ø {}; grooves along it for the apron cords", ruler.says(l.journal));
    let beam = |mark: &str, name| Piece { of: loom.wish.timber.name, ..m.wood(mark, name, stuff.clone(), 1, &note) };
    vec![
        beam("B1", "cloth beam"),
        beam("B2", "warp beam"),
        m.wood("B3", "breast bar", board(bar.section, l.wide), bar.boards(), &bar.note(ruler)),
        m.wood("B4", "back bar", board(bar.section, l.wide), bar.boards(), &bar.note(ruler)),
    ]
}

/// The rod a shop of this system sells for one of so many millimetres.
fn sold(loom: &Loom, diameter: f64) -> f64 {
    stock::rod_at_least(loom.wish.system, Q::new(diameter, &MM)).map_or(diameter, |rod| rod.get(&MM))
}

fn warp_gear(loom: &Loom) -> Vec<Piece> {
    let (m, ruler) = (Maker(loom), loom.wish.system.ruler());
    let wide = loom.wish.weaving_width.get(&MM) + 20.0;
    let rod = |d: f64| Stuff::Rod { diameter: sold(loom, d), long: wide };
    let turns = loom.wish.warp_length.get(&MM) / (PI * (loom.layout.beam + loom.layout.roll) / 2.0);
    let sticks = (turns + 4.0).ceil().clamp(5.0, 40.0) as u32;
    let cords = (loom.wish.weaving_width.get(&MM) / 100.0).ceil() as u32 + 1;
    vec![
        m.wood("C1", "apron rod", rod(12.0), 4, "two to each beam: one in the cords' loops, one that takes the warp"),
        m.wood("C2", "cross stick", rod(12.0), 2, "holed at both ends, tied together while the cross is in"),
        m.wood(
            "C3",
            "roll stick",
            rod(8.0),
            sticks,
            "between the layers on the warp beam: four in the first turn, then one a turn; or strong paper",
        ),
        Piece {
            mark: "C4".into(),
            name: "apron cord",
            stuff: Stuff::Bought,
            of: "",
            how_many: 2 * cords,
            note: format!(
                "braided, hardly stretching, {}, {} each, all cut to one length; {cords} to a beam, {} apart",
                ruler.about(3.0),
                ruler.of("1.2 m", "4 ft"),
                ruler.about(100.0)
            ),
        },
    ]
}

fn heddle(loom: &Loom) -> Vec<Piece> {
    let (l, s, m, h) = (&loom.layout, Shelf::of(loom.wish.system), Maker(loom), &loom.wish.heddle);
    if h.wish.style == Style::String {
        return strings(loom);
    }
    let (n, ruler) = (h.wish.heddles, loom.wish.system.ruler());
    let mut out = vec![m.wood(
        "D1",
        "heddle bar",
        board(s.lath, l.wide),
        4 * n,
        "two above, two below, gripping the comb between them",
    )];
    let (thick, blades) = (h.wish.thick(), h.eyes);
    let thing = match h.wish.style {
        Style::Strips => Piece {
            mark: "D2".into(),
            name: "heddle strip",
            stuff: Stuff::Bought,
            of: "",
            how_many: n * blades,
            note: format!(
                "{} x {} x {}, eye ø {} drilled in a jig",
                ruler.fine(h.wish.blade),
                ruler.bare(thick),
                ruler.says(h.wish.slot_height + 2.0 * RIM),
                ruler.says_fine(h.wish.eye)
            ),
        },
        Style::Sheet => Piece {
            mark: "D2".into(),
            name: "heddle sheet",
            stuff: Stuff::Sheet { thick, area: (h.comb + 2.0 * SIDE) * (h.wish.slot_height + 2.0 * RIM) },
            of: "birch plywood",
            how_many: n,
            note: match h.pieces() {
                1 => "laser-cut by its drawing".into(),
                pieces => format!("laser-cut by its drawing in {pieces} pieces, butted between the bars"),
            },
        },
        Style::Printed => Piece {
            mark: "D2".into(),
            name: "heddle segment",
            stuff: Stuff::Sheet {
                thick,
                area: h.pitch * f64::from(blades) / f64::from(h.pieces()) * (h.wish.slot_height + 2.0 * RIM) * 0.75,
            },
            of: "plastic",
            how_many: n * h.pieces(),
            note: "printed flat, pressed together".into(),
        },
        Style::String => return out,
    };
    out.push(thing);
    out.push(m.wood("E1", "heddle rest", board(s.cross, 170.0), 2, "three steps: up, middle, down; on the side rails"));
    out
}

/// Shafts with string heddles, the reed that spaces and beats, and the posts the shafts hang on.
fn strings(loom: &Loom) -> Vec<Piece> {
    let (l, s, m, h) = (&loom.layout, Shelf::of(loom.wish.system), Maker(loom), &loom.wish.heddle);
    let bought = |mark: &str, name, how_many, note| Piece {
        mark: mark.into(),
        name,
        stuff: Stuff::Bought,
        of: "",
        how_many,
        note,
    };
    let (shafts, ruler) = (h.wish.frames(), loom.wish.system.ruler());
    let tie = Tie::of(h);
    vec![
        m.wood(
            "D1",
            "shaft bar",
            board(s.lath, l.wide),
            2 * shafts,
            "two to a shaft, one above and one below the loops",
        ),
        bought(
            "D2",
            "heddle loop",
            h.eyes * shafts,
            format!(
                "smooth strong cord, {} each, tied on a jig of four nails; {} in all",
                ruler.says(tie.cord),
                show::natural(tie.all, Kind::Length, ruler.0)
            ),
        ),
        bought(
            "D3",
            "reed",
            1,
            format!(
                "{:.1} dents {}, {} wide, {} high inside; bought, or strips bound with cord",
                ruler.per(h.wish.sett / f64::from(h.wish.ends_per_dent)),
                ruler.each(),
                ruler.says(h.comb + 20.0),
                ruler.says(h.wish.slot_height)
            ),
        ),
        m.wood(
            "D4",
            "reed bar",
            board(s.lath, l.wide),
            2,
            "grooved, above and below the reed; hung on cords from the posts, swings and beats",
        ),
        m.wood(
            "E1",
            "shaft post",
            board(s.cross, (2.0 * h.wish.slot_height + 170.0).round()),
            2,
            "on the side rails; for each shaft a peg where it hangs level, and one a lift higher",
        ),
    ]
}

fn holding(loom: &Loom) -> Vec<Piece> {
    let (s, m, w) = (Shelf::of(loom.wish.system), Maker(loom), &loom.wish);
    let disc = loom.wheel.diameter * loom.wheel.diameter * PI / 4.0;
    vec![
        Piece {
            mark: "F1".into(),
            name: "ratchet wheel",
            stuff: Stuff::Sheet { thick: loom.wheel.thick, area: disc },
            of: "birch plywood",
            how_many: 2,
            note: format!(
                "{} teeth, ø {}; pinned and glued on the beam's end",
                loom.wheel.teeth,
                w.system.ruler().says(loom.wheel.diameter)
            ),
        },
        Piece {
            mark: "F2".into(),
            name: "pawl",
            stuff: Stuff::Sheet { thick: loom.wheel.thick, area: loom.wheel.diameter * 0.55 * 14.0 },
            of: "birch plywood",
            how_many: 2 * w.pawls,
            note: if w.pawls > 1 {
                format!("{} to a wheel, set between each other's teeth", w.pawls)
            } else {
                String::new()
            },
        },
        m.wood(
            "F3",
            "handle",
            Stuff::Rod { diameter: sold(loom, 15.0), long: 260.0 },
            2,
            "through a hole across the beam's end",
        ),
        m.wood("G1", "shuttle", board(s.lath, shuttle_length(loom)), 2, &shuttle_note(loom)),
        Piece {
            mark: "H1".into(),
            name: "bolts, screws, glue",
            stuff: Stuff::Bought,
            of: "",
            how_many: 1,
            note: hardware(loom),
        },
    ]
}

/// mm; a shuttle of half the width is caught at the far selvedge before it leaves the near one (common practice, no source).
fn shuttle_length(loom: &Loom) -> f64 {
    let usual = || (loom.wish.weaving_width.get(&MM) * 0.5).clamp(180.0, 450.0);
    loom.wish.shuttle_length.map_or_else(usual, |length| length.get(&MM))
}

fn shuttle_note(loom: &Loom) -> String {
    let w = &loom.wish;
    let ruler = w.system.ruler();
    let (high, wide) = (ruler.about(w.shuttle_height.get(&MM)), ruler.about(w.shuttle_width.get(&MM)));
    format!("planed to {high} x {wide}, nose rounded, waxed")
}

fn hardware(loom: &Loom) -> String {
    let fixings = Fixings::of(loom.wish.system);
    let (bars, screw, bolt, pivot) = (bar_screw(loom).name, fixings.screw.name, fixings.bolt.name, fixings.pivot.name);
    let pivots = 2 * loom.wish.pawls;
    let long = if loom.wish.stands == Stands::Floor { 24 } else { 12 };
    let rest = format!(
        "8 wood screws {bars}, {long} wood screws {screw}, {pivots} bolts {pivot} for the pawls, wood glue, wax"
    );
    match loom.wish.stands {
        Stands::Floor => format!("16 coach bolts {bolt} with washers and nuts, {rest}, 4 rubber feet"),
        Stands::Table => format!("{rest}, 2 screw clamps"),
    }
}

/// The screw that holds a bar down: long enough to bite into the rail under it.
pub(super) fn bar_screw(loom: &Loom) -> Fixing {
    let fixings = Fixings::of(loom.wish.system);
    if loom.layout.bar_of.glued { fixings.high_bar.0 } else { fixings.bar }
}

/// How a bar is screwed down.
fn bar_screws(loom: &Loom) -> String {
    let screw = bar_screw(loom).name;
    let sunk = if loom.layout.bar_of.glued {
        let (_, deep) = Fixings::of(loom.wish.system).high_bar;
        format!(", heads sunk {}", loom.wish.system.ruler().says(deep))
    } else {
        String::new()
    };
    format!("laid on top, two screws {screw} from above at each end{sunk}")
}

/// What joins what.
pub(super) fn joints(loom: &Loom) -> Vec<Joint> {
    let fixings = Fixings::of(loom.wish.system);
    let (screw, bolt, pivot) = (fixings.screw.name, fixings.bolt.name, fixings.pivot.name);
    let joint = |a, b, words: &str| Joint { between: (a, b), words: words.into() };
    let turns = format!("turns in a hole {} wider than its end, waxed", loom.wish.system.ruler().of("1 mm", "1/32 in"));
    let crossed = format!("glued and two screws {screw} through the rail at each end");
    let mut out = vec![
        joint("B3", "A1", &bar_screws(loom)),
        joint("B4", "A1", &bar_screws(loom)),
        joint("B1", "A1", &turns),
        joint("B2", "A1", &turns),
        joint("E1", "A1", "inside the rail, two screws; heights checked with the heddle in"),
        joint(
            "F2",
            "A1",
            &format!(
                "turns on a bolt {pivot} in a block as thick as the leg, screwed to the rail beside the wheel; falls in by its weight"
            ),
        ),
    ];
    if loom.wish.stands == Stands::Table {
        out.push(joint("A4", "A1", &crossed));
        return out;
    }
    out.extend([
        joint("A2", "A1", &format!("two coach bolts {bolt}, side by side at a slant, through both")),
        joint("A2", "A3", &format!("two coach bolts {bolt} through both")),
        joint("A4", "A3", &crossed),
        joint("A5", "A1", &crossed),
    ]);
    match loom.wish.stiffening {
        Stiffening::Brace => {
            out.push(joint("A6", "A2", &format!("one screw {screw} and glue at each end, one where they cross")))
        }
        Stiffening::Shelf => out.push(joint("A7", "A2", "on a cleat, two screws at each end")),
        Stiffening::Bare => {}
    }
    out
}

/// Mass of the whole loom.
pub fn mass(loom: &Loom) -> Q<Mass> {
    let grams: f64 = loom.parts.iter().map(|p| p.mass(density(p)).get(&KG)).sum();
    Q::new(grams, &KG)
}

/// g/cm³ of what a part is of.
pub fn density(piece: &Piece) -> f64 {
    match piece.of {
        "plastic" => 1.25,
        "birch plywood" => 0.68,
        "" => 0.0,
        name => crate::trade::timber::Timber::find(name).map_or(0.6, |t| t.density().get(&crate::units::G_CM3)),
    }
}
