//! The spinner's parts with marks, sizes and stuff.

use super::{Layout, OVER, SpinnerWish};
use crate::machine::loom::parts::{Piece, Stuff};
use crate::machine::loom::sold::{Fixings, Shelf};
use crate::trade::stock::{SECTIONS, Section, System};

/// The boards used, by system.
pub(super) struct Boards {
    /// Some of one of them make the base.
    bases: &'static [&'static str],
    /// Uprights, and the motor stand, sawn narrower.
    pub upright: &'static Section,
    /// The flyer is planed from it.
    pub lath: &'static Section,
}

fn section(name: &str) -> &'static Section {
    Section::find(name).unwrap_or(&SECTIONS[0])
}

impl Boards {
    pub(super) fn of(system: System) -> Boards {
        let (bases, upright): (&[&str], _) = match system {
            System::Metric => (&["18x69", "18x94", "18x144"], "18x94"),
            System::Inch => (&["1x4", "1x6", "1x8", "1x10", "1x12"], "1x4"),
        };
        Boards { bases, upright: section(upright), lath: Shelf::of(system).lath }
    }
    /// The board, and how many of it edge to edge, that make a base at least so wide with the least to spare.
    pub(super) fn base(&self, wide: f64) -> (&'static Section, u32) {
        let many = |board: &Section| (wide / board.wide).ceil();
        let spare = |board: &Section| many(board) * board.wide - wide;
        let sold = self.bases.iter().map(|name| section(name));
        let best = sold.min_by(|a, b| spare(a).total_cmp(&spare(b))).unwrap_or(self.upright);
        (best, many(best) as u32)
    }
}

/// Width of the flyer's cross, mm.
pub(super) const CROSS: f64 = 14.0;

/// Every part; the numbers are those of the drawing.
pub(super) fn list(w: &SpinnerWish, l: &Layout) -> Vec<Piece> {
    let mut out = wood(w, l);
    out.extend(bought(w));
    out
}

fn piece(mark: &str, name: &'static str, stuff: Stuff, of: &'static str, how_many: u32, note: String) -> Piece {
    Piece { mark: mark.into(), name, stuff, of, how_many, note }
}

fn wood(w: &SpinnerWish, l: &Layout) -> Vec<Piece> {
    let (ruler, boards, of) = (w.system.ruler(), Boards::of(w.system), w.wood);
    let board = |section: &'static Section, long: f64| Stuff::Board {
        section: section.name,
        thick: section.thick,
        wide: section.wide,
        long: long.ceil(),
    };
    let arm = ruler.of("10 x 10 mm".to_string(), "3/8 x 3/8 in".into());
    let cross = ruler.of(format!("10 x {CROSS:.0} mm"), "3/8 x 9/16 in".into());
    let hooks = format!(
        "planed to {arm}, edges round; hooks of {} wire every {} on one arm, the same weight on the other",
        ruler.about(2.0),
        ruler.about(12.0)
    );
    let bored = format!(
        "bright steel rod, straight; front end bored {} as orifice for {}, eye at the side, edges polished",
        ruler.about(6.0),
        ruler.about(35.0)
    );
    let clamp = format!(
        "sawn {} wide; bored ø {} for the motor, split above it and drawn tight by a screw; slots below, so that it slides",
        ruler.says(l.stand_wide),
        ruler.says(w.motor_case.0)
    );
    let base = match l.base_boards {
        1 => "rubber feet below".into(),
        _ => "edge to edge, glued; rubber feet below".into(),
    };
    let both = "hole for a ball bearing, both drilled as one".into();
    let rod = Stuff::Rod { diameter: w.spindle, long: l.spindle_end.ceil() };
    vec![
        piece("1", "base board", board(l.base_of, l.base.0), of, l.base_boards, base),
        piece("2", "upright", board(boards.upright, l.axis + OVER), of, 2, both),
        piece("3", "spindle", rod, "steel", 1, bored),
        piece("4", "flyer arm", board(boards.lath, l.flyer.1 - l.flyer.0), of, 2, hooks),
        piece(
            "5",
            "flyer cross",
            board(boards.lath, 2.0 * (l.arm + l.arm_section)),
            of,
            1,
            format!("planed to {cross}, pinned through the spindle"),
        ),
        piece("14", "motor stand", board(boards.upright, l.motor.1 + OVER), of, 2, clamp),
    ]
}

fn bought(w: &SpinnerWish) -> Vec<Piece> {
    let ruler = w.system.ruler();
    let screw = Fixings::of(w.system).screw.name;
    let made = |mark: &str, name, how_many, note: String| piece(mark, name, Stuff::Bought, "plastic", how_many, note);
    let had = |mark: &str, name, how_many, note: String| piece(mark, name, Stuff::Bought, "", how_many, note);
    let grub = |metric: &str, inch: &str| format!("printed from its solid, grub screw {}", ruler.of(metric, inch));
    vec![
        made("6", "bobbin", 4, "printed from its solid".into()),
        made("7", "spindle pulley", 1, grub("M4", "No. 8-32")),
        made("8", "motor pulley", 1, grub("M3", "No. 4-40")),
        had("9", "belt", 1, format!("round, ø {}, see its length", ruler.says(w.belt))),
        had("10", "ball bearing", 2, format!("for a spindle of {}, shielded", ruler.says(w.spindle))),
        had("11", "brake cord, spring, peg", 1, format!("{} cotton cord over the bobbin's whorl", ruler.about(2.0))),
        had(
            "12",
            "guard",
            1,
            format!(
                "{} clear sheet bent over flyer and belt, screwed to the base; reach in only from the front",
                ruler.about(2.0)
            ),
        ),
        had("13", "motor", 1, "as in the plan, held in its stand".into()),
        had("15", "screws, glue, feet", 1, format!("12 wood screws {screw}, wood glue, 4 rubber feet")),
    ]
}
