//! The order to build the loom in.

use super::sold::ROUNDED;
use super::{Loom, Stands, Stiffening};
use crate::machine::heddle::Style;

/// What to mind at a step; a sheet prints the usual caution for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mind {
    Blades,
    Dust,
    HotGlue,
    Laser,
    Tension,
    Rotation,
    Current,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    pub words: String,
    pub parts: Vec<&'static str>,
    pub mind: Vec<Mind>,
}

/// A step of words, parts and what to mind.
pub(crate) fn step(words: impl Into<String>, parts: &[&'static str], mind: &[Mind]) -> Step {
    Step { words: words.into(), parts: parts.to_vec(), mind: mind.to_vec() }
}

/// Build order.
pub(super) fn order(loom: &Loom) -> Vec<Step> {
    use Mind::{Blades, Dust, Tension};
    let (l, ruler) = (&loom.layout, loom.wish.system.ruler());
    let true_to = ruler.of("1 mm", "1/32 in");
    let mut out = vec![
        step("Saw all boards and rods by the cutting list. Write the mark on each piece.", &[], &[Blades, Dust]),
        step(
            format!(
                "Clamp the two side rails face to face. Drill both beam holes ø {} through the pair at once, so that the beams lie square.",
                ruler.says(l.journal + ruler.of(1.0, 25.4 / 32.0))
            ),
            &["A1"],
            &[Blades, Dust],
        ),
        step(
            format!(
                "Round the upper edges of breast and back bar to {}. Sand every edge a thread will touch until a nylon stocking slides over it.",
                ruler.about(ROUNDED)
            ),
            &["B3", "B4"],
            &[Dust],
        ),
    ];
    if loom.wish.stands == Stands::Floor {
        out.push(step(format!("Bolt each side frame flat on the floor: legs outside, rails inside. Measure both diagonals: equal to {true_to}, then tighten."), &["A1", "A2", "A3"], &[Blades]));
        out.push(step(
            "Stand the two sides up and join them by the cross rails, glued and screwed. Diagonals again.",
            &["A4", "A5"],
            &[],
        ));
        match loom.wish.stiffening {
            Stiffening::Brace => out.push(step(
                "Screw on the crossed braces while the diagonals are equal. The frame is stiff from here on.",
                &["A6"],
                &[],
            )),
            Stiffening::Shelf => {
                out.push(step("Screw down the shelf boards while the diagonals are equal.", &["A7"], &[]))
            }
            Stiffening::Bare => {}
        }
    } else {
        out.push(step(
            format!("Join the side rails by the cross rails, glued and screwed. Diagonals equal to {true_to}."),
            &["A1", "A4"],
            &[],
        ));
    }
    out.push(step("Put the beams through their holes. Pin and glue a ratchet wheel on each, outside the leg. They must turn with two fingers.", &["B1", "B2", "F1"], &[]));
    out.push(step(
        "Screw on the bars and the pawls. The pawls fall in by themselves; the two on one wheel click in turn.",
        &["B3", "B4", "F2"],
        &[Tension],
    ));
    out.push(heddle_step(loom));
    out.push(step(rests(loom), &["E1", "D1"], &[]));
    out.push(step(
        format!("Tie the apron cords, all the same length: rods parallel to the beams to {true_to}."),
        &["C1", "C4"],
        &[],
    ));
    out.push(step("Level the loom where it will stand. Tie on a strong trial warp of 20 ends at both edges and the middle, tighten, wait an hour: nothing may creak, slip or lean.", &[], &[Tension]));
    out
}

/// Where heddle rests, or the posts of shafts, hold the eyes.
fn rests(loom: &Loom) -> String {
    let (lift, first) = (loom.wish.lift.to_si() * 1e3, loom.wish.fell_to_heddle.to_si() * 1e3);
    let ruler = loom.wish.system.ruler();
    let up = ruler.about(lift);
    let last = lift * (first + loom.layout.heddles[1] - loom.layout.heddles[0]) / first;
    if loom.wish.heddle.wish.shafts().is_some() {
        return format!(
            "Set the shaft posts. Lower pegs: the eyes lie {} below the bars. Upper pegs: the front shaft {up} higher, the back one {}, those between in step.",
            ruler.of("2 mm", "1/16 in"),
            ruler.about(last)
        );
    }
    format!(
        "Set the heddle rests: in the middle step the eyes lie level with the bars, up {up} above, down {up} below."
    )
}

fn heddle_step(loom: &Loom) -> Step {
    let h = &loom.wish.heddle;
    let (words, mind): (String, Vec<Mind>) = match h.wish.style {
        Style::Strips => (
            format!("Make a jig for the pitch of {}. Drill the eyes in the strips a bundle at a time, glue the strips into the grooved bars, check the width every 50 strips.", loom.wish.system.ruler().says_fine(h.pitch)),
            vec![Mind::Blades, Mind::Dust],
        ),
        Style::Sheet => (
            "Have the heddle sheets cut from the DXF. Sand slots and eyes with a folded strip of fine paper, wax them, clamp the sheet between the bars.".into(),
            vec![Mind::Laser, Mind::Dust],
        ),
        Style::Printed => (
            "Print the segments flat. Clean every eye with a wire, press the segments together, screw them between the bars.".into(),
            vec![Mind::HotGlue],
        ),
        Style::String => (
            "Tie the loops on a jig of four nails, all one length, and put them on the shaft bars. Set the reed between its bars, in front of the shafts.".into(),
            vec![],
        ),
    };
    let shafts = h.wish.style == Style::String;
    Step { words, parts: if shafts { vec!["D1", "D2", "D3", "D4"] } else { vec!["D1", "D2"] }, mind }
}
