//! The rigid heddle made four ways: strips glued in grooves, a laser-cut sheet, printed segments that join, string loops on
//! bars. What each can be made to, how true it comes out, how stiff it is, what it costs in hours; and the outlines to cut.
//!
//! A pitch is one slot and one blade with its eye. With one heddle a slot passes one thread; with two, three (the other
//! heddle's eye thread and two free ones). Millimetres. Limits of the ways are bench practice without a published source.

mod shape;
mod tie;

pub use shape::{Cut, RIM, SEGMENT_PITCHES, SIDE, cut, front_of, segment};
pub use tie::Tie;

use crate::formulas::loom as f;
use crate::machine::Refusal;
use crate::trade::stock::System;
use crate::units::{N, Q, show};

/// How it is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Style {
    /// Thin strips of wood or metal glued into grooves of two bars, an eye drilled in each.
    Strips,
    /// One sheet of plywood, card or plastic, slots and eyes cut by a laser.
    Sheet,
    /// Plastic segments a hand wide, pressed together side by side.
    Printed,
    /// Loops of cord on two bars; a separate reed spaces the warp.
    String,
}

impl Style {
    /// All of them.
    pub const ALL: [Style; 4] = [Style::Strips, Style::Sheet, Style::Printed, Style::String];
    /// Plan word.
    pub fn word(self) -> &'static str {
        match self {
            Style::Strips => "strips",
            Style::Sheet => "sheet",
            Style::Printed => "printed",
            Style::String => "string",
        }
    }
    /// The style of a plan word; nothing for a word that is none.
    pub fn of(word: &str) -> Option<Style> {
        Style::ALL.into_iter().find(|style| style.word() == word)
    }
    /// What one way can be made to.
    pub fn way(self) -> Way {
        match self {
            Style::Strips => Way {
                least_pitch: (2.8, 3.3),
                least_blade: 1.8,
                least_wall: 0.8,
                thick: 4.0,
                each_error: 0.08,
                runs: true,
                stiff_gpa: 11.0,
                minutes_each: 4.0,
                minutes_once: 240.0,
                material: "hardwood or brass strips, grooved bars, glue",
            },
            Style::Sheet => Way {
                least_pitch: (2.5, 2.7),
                least_blade: 1.6,
                least_wall: 0.5,
                thick: 3.0,
                each_error: 0.05,
                runs: false,
                stiff_gpa: 8.0,
                minutes_each: 0.35,
                minutes_once: 90.0,
                material: "birch plywood, laser-cut, edges sanded and waxed",
            },
            Style::Printed => Way {
                least_pitch: (3.2, 3.46),
                least_blade: 2.0,
                least_wall: 0.9,
                thick: 3.0,
                each_error: 0.10,
                runs: false,
                stiff_gpa: 2.5,
                minutes_each: 2.5,
                minutes_once: 60.0,
                material: "printed plastic segments, two wooden bars",
            },
            Style::String => Way {
                least_pitch: (0.9, 1.1),
                least_blade: 0.5,
                least_wall: 0.0,
                thick: 1.0,
                each_error: 0.25,
                runs: false,
                stiff_gpa: 0.0,
                minutes_each: 3.0,
                minutes_once: 120.0,
                material: "smooth strong cord, two bars, a separate reed",
            },
        }
    }
}

/// What a way of making can do; bench practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// Least pitch: from, to.
    pub least_pitch: (f64, f64),
    /// Narrowest blade that carries an eye.
    pub least_blade: f64,
    /// Least material beside an eye.
    pub least_wall: f64,
    pub thick: f64,
    /// Error of one pitch, standard deviation.
    pub each_error: f64,
    /// Whether errors add up along the row (parts set one against the other) or each stands by itself (cut to a drawing).
    pub runs: bool,
    /// Bending stiffness of a blade along its height.
    pub stiff_gpa: f64,
    /// Minutes for each pitch, and once for the whole.
    pub minutes_each: f64,
    pub minutes_once: f64,
    pub material: &'static str,
}

impl Way {
    /// Least pitch to plan with: the middle of what is reported.
    pub fn pitch(&self) -> f64 {
        f64::midpoint(self.least_pitch.0, self.least_pitch.1)
    }
    /// Closest sett of one such heddle, ends a centimetre: two ends in a pitch.
    pub fn closest_sett(&self) -> f64 {
        20.0 / self.pitch()
    }
}

/// A heddle asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    pub style: Style,
    /// Number that stand together.
    pub heddles: u32,
    /// Ends a centimetre in the reed.
    pub sett: f64,
    /// Width of the warp in the heddle.
    pub width: f64,
    /// Width of a blade seen from the front, of an eye, and height of a slot.
    pub blade: f64,
    pub eye: f64,
    pub slot_height: f64,
    /// Yarn diameter and its coefficient of variation along the yarn.
    pub yarn: f64,
    pub unevenness: f64,
    /// Side force on one blade from the beat or a caught thread, N.
    pub side_force: f64,
    /// Thickness of sheet, strip or print, where it is not the usual one.
    pub thick: Option<f64>,
    /// Width the laser or router takes; 0 where its own program allows for it.
    pub cutter: f64,
    /// Widest piece the cutter or printer makes.
    pub segment: Option<f64>,
    /// String heddles hang on so many shafts; none where one row of loops stands for a rigid heddle.
    pub shafts: Option<u32>,
    /// Ends in each dent of the reed beside string heddles.
    pub ends_per_dent: u32,
    /// Whose boards its bars are made of, and whose rule its sizes are written by.
    pub system: System,
}

impl Wish {
    /// Thickness of sheet, strip or print.
    pub fn thick(&self) -> f64 {
        self.thick.unwrap_or(self.style.way().thick)
    }
    /// Heddles or shafts that stand one behind the other.
    pub fn frames(&self) -> u32 {
        self.shafts().unwrap_or(self.heddles)
    }
    /// Shafts, where string heddles hang on them.
    pub fn shafts(&self) -> Option<u32> {
        self.shafts.filter(|_| self.style == Style::String)
    }
}

/// One heddle worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Heddle {
    pub wish: Wish,
    pub pitch: f64,
    pub gap: f64,
    /// Room beside the eye.
    pub wall: f64,
    /// Threads that pass one slot.
    pub threads: u32,
    /// Slot room and eye room in diameters, of the mean yarn and of its thick places (mean and two deviations).
    pub slot_room: f64,
    pub slot_room_thick: f64,
    pub eye_room: f64,
    pub eye_room_thick: f64,
    /// Slots and eyes of one heddle.
    pub slots: u32,
    pub eyes: u32,
    /// Whole comb, side bars left out.
    pub comb: f64,
    /// Error of the whole width and of one pitch, 9 of 10 within.
    pub width_error: f64,
    pub pitch_error: f64,
    /// A blade bends sideways by this under the side force.
    pub bend: f64,
    /// Hours for all heddles.
    pub hours: f64,
    /// Closest sett this way can be made to with this yarn, ends a centimetre.
    pub closest: f64,
    /// What stands against it, in words; empty where it can be made and will pass the yarn.
    pub against: Vec<String>,
}

/// Slot room each thread needs, in its diameters: hand-spun (bench).
pub const SLOT_ROOM: f64 = 1.4;
/// Eye room a thread needs, in its diameters (bench).
pub const EYE_ROOM: f64 = 2.5;
/// Blades may bend by a quarter of the gap.
pub const BEND_SHARE: f64 = 0.25;
/// Deviations counted as a thick place.
const THICK: f64 = 2.0;
/// A standard normal value lies within this many deviations in 9 of 10 cases.
const NINE_OF_TEN: f64 = 1.645;

/// Works a heddle out.
///
/// # Errors
/// Sizes that are none, or more pitches than 5 000.
pub fn work_out(wish: &Wish) -> Result<Heddle, Refusal> {
    check(wish)?;
    let (h, way) = (f64::from(wish.heddles), wish.style.way());
    let ends = (wish.width / 10.0 * wish.sett).round();
    // A rigid heddle holds every second end by an eye; on shafts each end has a loop of its own, dealt out evenly.
    let (pitch, eyes, threads) = match wish.shafts().map(f64::from) {
        Some(shafts) => (10.0 * shafts / wish.sett, (ends / shafts).ceil(), wish.frames() - 1),
        None => (20.0 * h / wish.sett, (f::EYES.code)([ends, h]), 2 * wish.heddles - 1),
    };
    let gap = pitch - wish.blade;
    let h = wish.shafts().map_or(h, f64::from);
    let thick_yarn = wish.yarn * (1.0 + THICK * wish.unevenness);
    let bend = bend(wish, &way);
    let mut made = Heddle {
        wish: *wish,
        pitch,
        gap,
        wall: (f::WALL.code)([wish.blade, wish.eye]),
        threads,
        slot_room: (f::SLOT_ROOM.code)([gap.max(0.0), f64::from(threads), wish.yarn]),
        slot_room_thick: gap.max(0.0) / (f64::from(threads - 1) * wish.yarn + thick_yarn),
        eye_room: (f::EYE_ROOM.code)([wish.eye, wish.yarn]),
        eye_room_thick: wish.eye / thick_yarn,
        slots: eyes as u32 + 1,
        eyes: eyes as u32,
        comb: eyes * pitch + gap.max(0.0),
        width_error: NINE_OF_TEN * if way.runs { way.each_error * eyes.sqrt() } else { way.each_error },
        pitch_error: NINE_OF_TEN * way.each_error,
        bend,
        hours: h * (way.minutes_once + way.minutes_each * eyes) / 60.0,
        closest: match wish.shafts() {
            Some(shafts) => 10.0 * f64::from(shafts) / way.pitch(),
            None => closest(wish.style, wish.heddles, wish.blade, wish.yarn),
        },
        against: Vec::new(),
    };
    made.against = against(&made, &way);
    Ok(made)
}

/// Closest sett: the pitch cannot be less than the way allows, nor the slot less than its threads need.
pub fn closest(style: Style, heddles: u32, blade: f64, yarn: f64) -> f64 {
    let by_way = 20.0 * f64::from(heddles) / style.way().pitch();
    by_way.min((f::GREATEST_OF_HEDDLE.code)([f64::from(heddles), blade, SLOT_ROOM, yarn]))
}

/// Sideways bend of a blade held at both ends with a force in its middle: F h³/(192 E I) for glued or cut ends, and F h³/(48 E I)
/// for printed ones, whose ends give (Roark, table 8).
fn bend(wish: &Wish, way: &Way) -> f64 {
    if way.stiff_gpa <= 0.0 {
        return 0.0;
    }
    // The eye weakens a third of the height by what it takes from the blade; the slot's height is what bends.
    let second_moment = wish.thick() * wish.blade * wish.blade * wish.blade / 12.0;
    let held = if wish.style == Style::Printed { 48.0 } else { 192.0 };
    let length = wish.slot_height;
    wish.side_force * length * length * length / (held * way.stiff_gpa * 1000.0 * second_moment)
}

fn against(h: &Heddle, way: &Way) -> Vec<String> {
    let mut out = Vec::new();
    let (w, ruler) = (&h.wish, h.wish.system.ruler());
    if h.pitch < way.pitch() - 1e-9 {
        out.push(format!(
            "a pitch of {} cannot be made this way: {} to {} is the least",
            ruler.says_fine(h.pitch),
            ruler.fine(way.least_pitch.0),
            ruler.says_fine(way.least_pitch.1)
        ));
    }
    if w.style != Style::String && w.blade < way.least_blade {
        let (is, least) = (ruler.says_fine(w.blade), ruler.says_fine(way.least_blade));
        out.push(format!("a blade of {is} cannot carry an eye: {least} at least"));
    }
    if h.wall < way.least_wall - 1e-9 {
        let (is, least) = (ruler.says_fine(h.wall), ruler.says_fine(way.least_wall));
        out.push(format!("{is} left beside the eye: {least} at least"));
    }
    if h.gap <= 0.0 {
        out.push("blades leave no slot".into());
    } else if h.slot_room < SLOT_ROOM - 1e-9 {
        out.push(format!(
            "{} threads in a {} slot have {:.2} diameters each: {SLOT_ROOM} are needed",
            h.threads,
            ruler.says_fine(h.gap),
            h.slot_room
        ));
    }
    if h.eye_room < EYE_ROOM - 1e-9 {
        let is = ruler.says_fine(w.eye);
        out.push(format!("an eye of {is} is {:.1} diameters: {EYE_ROOM} are needed", h.eye_room));
    }
    if h.eye_room_thick < 1.2 {
        out.push(format!("thick places fill the eye ({:.2} of it left free)", 1.0 - 1.0 / h.eye_room_thick));
    }
    if h.gap > 0.0 && h.bend > BEND_SHARE * h.gap {
        let (gives, tug) = (ruler.says_fine(h.bend), show::of(Q::new(w.side_force, &N), &N, ruler.0));
        out.push(format!("a blade gives {gives} under {tug}, more than a quarter of the slot"));
    }
    out
}

fn check(w: &Wish) -> Result<(), Refusal> {
    let number = |name: &str, value: f64, low: f64, high: f64, unit: &str| {
        if value >= low && value <= high {
            return Ok(());
        }
        Err(Refusal::new("heddle", format!("a {name} of {value} {unit} was given; {low} to {high} {unit} is accepted")))
    };
    number("sett", w.sett, 0.5, 60.0, "/cm")?;
    number("width", w.width, 20.0, 3000.0, "mm")?;
    number("blade", w.blade, 0.1, 30.0, "mm")?;
    number("eye", w.eye, 0.05, 20.0, "mm")?;
    number("slot height", w.slot_height, 10.0, 400.0, "mm")?;
    number("yarn diameter", w.yarn, 0.02, 10.0, "mm")?;
    number("unevenness", w.unevenness, 0.0, 1.0, "")?;
    number("side force", w.side_force, 0.0, 100.0, "N")?;
    number("number of heddles", f64::from(w.heddles), 1.0, 4.0, "")?;
    number("thickness", w.thick(), 0.2, 40.0, "mm")?;
    number("cutter", w.cutter, 0.0, 0.9 * w.eye, "mm")?;
    number("segment", w.segment.unwrap_or(100.0), 10.0, 3000.0, "mm")?;
    number("number of shafts", f64::from(w.frames()), 1.0, 40.0, "")?;
    number("number of ends in a dent", f64::from(w.ends_per_dent), 1.0, 16.0, "")?;
    if w.width / 10.0 * w.sett > 5000.0 {
        return Err(Refusal::new("heddle", "more than 5 000 ends"));
    }
    Ok(())
}

/// One line of the comparison: a way, one or two heddles, and what cloth it can make.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    pub style: Style,
    pub heddles: u32,
    /// Closest sett with this yarn.
    pub closest: f64,
    /// Finest single yarn (mm) that the greatest sett of the way suits at this firmness, or `None` for string, which the reed
    /// limits.
    pub hours: f64,
    pub width_error: f64,
    /// Whether it reaches the sett asked.
    pub reaches: bool,
    pub material: &'static str,
    pub note: &'static str,
}

/// All ways with one and with two heddles against a sett and a yarn; blade and eye as narrow as each way and the yarn allow.
///
/// # Errors
/// As [`work_out`].
pub fn compare(wish: &Wish) -> Result<Vec<Compared>, Refusal> {
    check(wish)?;
    let mut out = Vec::new();
    for style in Style::ALL {
        let way = style.way();
        let blade = (EYE_ROOM * wish.yarn + 2.0 * way.least_wall).max(way.least_blade);
        for heddles in [1, 2] {
            let closest = closest(style, heddles, blade, wish.yarn);
            let tried = Wish {
                style,
                heddles,
                blade,
                sett: closest.min(wish.sett),
                eye: EYE_ROOM * wish.yarn,
                thick: None,
                cutter: 0.0,
                shafts: None,
                ..*wish
            };
            let made = work_out(&tried)?;
            out.push(Compared {
                style,
                heddles,
                closest,
                hours: made.hours,
                width_error: made.width_error,
                reaches: closest >= wish.sett - 1e-9,
                material: way.material,
                note: match (style, heddles) {
                    (Style::String, _) => "needs a separate reed to space the warp",
                    (_, 2) => "threaded twice; three threads to a slot",
                    _ => "",
                },
            });
        }
    }
    Ok(out)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn tern_bay() -> Wish {
        Wish {
            style: Style::Sheet,
            heddles: 2,
            sett: 12.97,
            width: 700.0,
            blade: 1.9,
            eye: 0.8,
            slot_height: 78.0,
            yarn: 0.27,
            unevenness: 0.2,
            side_force: 0.5,
            thick: None,
            cutter: 0.0,
            segment: None,
            shafts: None,
            ends_per_dent: 2,
            system: System::Metric,
        }
    }

    /// Four shafts at 12 ends a centimetre over 70 cm: 840 ends, 210 loops on each shaft, 3.3 mm apart.
    #[test]
    fn string_heddles_on_shafts() {
        let h = work_out(&Wish { style: Style::String, sett: 12.0, shafts: Some(4), ..tern_bay() }).unwrap();
        assert_eq!((h.eyes, h.wish.frames(), h.threads), (210, 4, 3));
        assert!((h.pitch - 10.0 / 3.0).abs() < 1e-9 && h.against.is_empty(), "{:?}", h.against);
        // 840 loops of three minutes and two hours for each shaft.
        assert!((h.hours - (840.0 * 3.0 + 4.0 * 120.0) / 60.0).abs() < 1e-9, "{}", h.hours);
    }

    /// A thicker sheet gives less; a stiffness grows with the thickness.
    #[test]
    fn a_thick_sheet_bends_less() {
        let (thin, thick) = (tern_bay(), Wish { thick: Some(6.0), ..tern_bay() });
        let bend = |w: &Wish| work_out(w).unwrap().bend;
        assert!((bend(&thin) / bend(&thick) - 2.0).abs() < 1e-9);
        assert!(work_out(&Wish { cutter: 0.8, ..tern_bay() }).unwrap_err().to_string().contains("cutter"));
    }

    /// The practitioner's figures: pitch 3.08, gap 1.18 mm for three threads (1.46 diameters each), eye 3.0 diameters, wall
    /// 0.55 mm, 908 ends, 227 eyes in each heddle; greatest sett 13.2 /cm.
    #[test]
    fn tern_bay_works() {
        let h = work_out(&tern_bay()).unwrap();
        assert!(h.against.is_empty(), "{:?}", h.against);
        assert!((h.pitch - 3.084).abs() < 0.002 && (h.gap - 1.184).abs() < 0.002);
        assert!((h.slot_room - 1.46).abs() < 0.01 && (h.eye_room - 2.96).abs() < 0.01);
        assert!((h.wall - 0.55).abs() < 1e-9 && h.eyes == 227 && h.slots == 228 && h.threads == 3);
        assert!((h.closest - 13.2).abs() < 0.05, "{}", h.closest);
    }

    /// The first demo: one heddle of 0.9 mm strips at 13.33 /cm cannot be built, for the right reasons.
    #[test]
    fn the_sacking_heddle_is_refused() {
        let h = work_out(&Wish { style: Style::Strips, heddles: 1, sett: 13.33, blade: 0.9, eye: 0.5, ..tern_bay() })
            .unwrap();
        assert!((h.pitch - 1.5).abs() < 0.01 && (h.gap - 0.6).abs() < 0.01);
        let words = h.against.join("; ");
        assert!(words.contains("cannot be made this way") && words.contains("0.20 mm left beside the eye"), "{words}");
        assert!(words.contains("1.9 diameters"), "{words}");
    }

    /// Greatest setts of one heddle, bench: strips 6 to 7 /cm, sheet 7.7, printed 6, string 20.
    #[test]
    fn bench_limits() {
        let fine = 0.01;
        for (style, low, high) in [
            (Style::Strips, 6.0, 7.2),
            (Style::Sheet, 7.4, 8.0),
            (Style::Printed, 5.7, 6.5),
            (Style::String, 18.0, 22.3),
        ] {
            let closest = closest(style, 1, 0.1, fine);
            assert!((low..=high).contains(&closest), "{style:?} {closest}");
        }
    }

    #[test]
    fn strips_run_and_sheets_do_not() {
        let strips = work_out(&Wish { style: Style::Strips, sett: 10.0, ..tern_bay() }).unwrap();
        let sheet = work_out(&Wish { sett: 10.0, ..tern_bay() }).unwrap();
        assert!(strips.width_error > 8.0 * sheet.width_error);
    }

    #[test]
    fn soft_blades_and_thick_yarn_are_found() {
        let soft =
            work_out(&Wish { style: Style::Printed, blade: 1.2, slot_height: 120.0, side_force: 2.0, ..tern_bay() })
                .unwrap();
        assert!(soft.against.iter().any(|w| w.contains("gives")), "{:?}", soft.against);
        let thick = work_out(&Wish { unevenness: 0.8, eye: 0.8, ..tern_bay() }).unwrap();
        assert!(thick.against.iter().any(|w| w.contains("thick places")), "{:?}", thick.against);
    }

    #[test]
    fn comparison_says_which_way_reaches() {
        let list = compare(&tern_bay()).unwrap();
        assert_eq!(list.len(), 8);
        let reaches: Vec<_> = list.iter().filter(|c| c.reaches).map(|c| (c.style, c.heddles)).collect();
        assert!(reaches.contains(&(Style::Sheet, 2)) && reaches.contains(&(Style::String, 1)));
        assert!(!reaches.contains(&(Style::Sheet, 1)) && !reaches.contains(&(Style::Strips, 1)));
    }

    #[test]
    fn nonsense_is_refused() {
        for bad in [0.0, -1.0, f64::NAN, 1e9] {
            assert!(work_out(&Wish { sett: bad, ..tern_bay() }).is_err());
            assert!(compare(&Wish { yarn: bad, ..tern_bay() }).is_err());
        }
    }
}
