//! The order to build the spinner in.

use super::{Layout, SpinnerWish};
use crate::machine::loom::Step;
use crate::machine::loom::steps::{Mind, step};

/// Build order.
pub(super) fn order(w: &SpinnerWish, l: &Layout) -> Vec<Step> {
    let mut out = frame(w, l);
    out.extend(turning(w, l));
    out
}

/// Base, uprights, spindle.
fn frame(w: &SpinnerWish, l: &Layout) -> Vec<Step> {
    use Mind::{Blades, Dust};
    let r = w.system.ruler();
    vec![
        step("Saw all boards and the spindle by the cutting list. Write the mark on each piece.", &[], &[Blades, Dust]),
        step(
            format!(
                "Glue the base up, {} edge to edge, on a flat table. Draw the spindle's line along it, {} from the left edge.",
                if l.base_boards == 1 { "one board".to_string() } else { format!("{} boards", l.base_boards) },
                r.says(l.base_left)
            ),
            &["1"],
            &[Dust],
        ),
        step(
            format!(
                "Clamp both uprights face to face. Bore the seat of the bearings through the pair at once, its middle {} above the foot, so that the spindle lies level.",
                r.says(l.axis)
            ),
            &["2", "10"],
            &[Blades, Dust],
        ),
        step(
            format!(
                "Screw the uprights on from below, across the line, their middles {} and {} from the front edge. Push in bearings and spindle: it must turn with a breath.",
                r.says(l.front_bearing),
                r.says(l.rear_bearing)
            ),
            &["1", "2", "3", "10", "15"],
            &[Blades],
        ),
        step("Bore and polish the orifice and its eye until a nylon stocking slides through.", &["3"], &[Blades]),
    ]
}

/// What turns, what holds it back, what covers it.
fn turning(w: &SpinnerWish, l: &Layout) -> Vec<Step> {
    use Mind::{Blades, Current, Dust, Rotation};
    let r = w.system.ruler();
    vec![
        step(
            "Plane the flyer's arms and cross. Glue and dowel them, pin the cross through the spindle, set the hooks, round every edge.",
            &["3", "4", "5"],
            &[Blades, Dust],
        ),
        step(
            "Balance the flyer on two level edges: wind wire on the light arm until it stays where you put it.",
            &["4", "5"],
            &[Rotation],
        ),
        step(
            "Print bobbins and pulleys. Ream the bobbins until they run free on the spindle; fix each pulley by its grub screw.",
            &["6", "7", "8"],
            &[],
        ),
        step(
            format!(
                "Bore both boards of the motor stand as a pair, {} above the foot, and clamp the motor. Screw the stand on through its slots, pulleys in one plane to {}, belt tight enough not to slip by hand.",
                r.says(l.motor.1),
                r.of("1 mm", "1/32 in")
            ),
            &["8", "9", "13", "14"],
            &[Blades, Dust],
        ),
        step(
            "Lay the brake cord over the bobbin's whorl, its spring at one side of the base and its peg at the other.",
            &["11"],
            &[],
        ),
        step(
            "Bend the guard over flyer and belt and screw it on. Turn the flyer once by hand: it must touch nothing.",
            &["12"],
            &[Rotation],
        ),
        step(
            "Wire it by the wiring sheet, the supply unplugged. Try stop, pedal and both directions with the belt off.",
            &["9", "13"],
            &[Current],
        ),
        step(
            "Run it first behind a board and from aside, at the test speed of the drawing, for a minute. Then stop, and look at every pin, hook and screw.",
            &[],
            &[Rotation],
        ),
    ]
}
