//! The straight top: two rectangles, two rectangular sleeves, two square gussets. The neck is a slit along the shoulders
//! (nothing cut away), or a round one with a facing. Millimetres.

use super::super::curve;
use super::super::fault::Fault;
use super::super::figure::Figure;
use super::super::make::{Blank, Making, both_halves, mm};
use super::super::piece::{Garment, Girths, MarkKind};
use super::super::rules;
use super::super::wish::{SleeveWish, Wish};
use super::neck::{self, Neck};
use super::{Torso, fits, pictures, print, torso};
use crate::trade::body::Part;
use kurbo::{BezPath, Point, Rect};

const FROM: [Part; 5] = [Part::Chest, Part::Head, Part::ShoulderBreadth, Part::UpperArm, Part::BackWaist];

/// Rectangle of the sleeve and side of the gusset.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arm {
    pub girth: f64,
    pub long: f64,
    pub gusset: f64,
}

/// Front and gusset on the bench.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pieces {
    pub front: usize,
    pub gusset: usize,
}

/// Drafts it.
pub(in super::super) fn draft(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let figure = Figure::of(&wish.body)?;
    let mut making = Making::new(wish);
    making.reasons.extend(figure.stand_ins(&FROM, making.say));
    let Some((torso, arm, neck)) = settle(&mut making, &figure) else { return Err(making.faults) };
    let pieces = cut(&mut making, &torso, &arm, &neck);
    making.opening = Some(neck.opening());
    making.girths = Some(Girths {
        chest: 4.0 * torso.quarter,
        hem: 4.0 * torso.quarter,
        sleeve: arm.girth,
        cuff: arm.girth,
        length: torso.length,
        armhole_depth: 0.5 * arm.girth + arm.gusset,
    });
    fits::straight(&mut making, &figure, &torso, &neck, arm.girth, arm.gusset);
    pictures::straight(&mut making, pieces, &torso, &arm, &neck);
    making.finish()
}

fn settle(making: &mut Making, figure: &Figure) -> Option<(Torso, Arm, Neck)> {
    let torso = torso(making, figure, false)?;
    let ease = mm(making.wish.ease.upper_arm).unwrap_or(rules::ARM_EASE);
    let girth = figure.get(Part::UpperArm) + ease;
    let gusset = gusset(making, figure, girth)?;
    let arm = Arm { girth, long: reach(making, figure, &torso, gusset)?, gusset };
    let side = torso.hem - 0.5 * girth - arm.gusset;
    let under = arm.long - arm.gusset;
    if side < 80.0 || under < 20.0 || ease < 0.0 {
        let text = format!(
            "a sleeve {:.1} cm round and {:.1} cm long with a gusset of {:.1} cm does not fit on a top {:.1} cm long: it \
             leaves {:.1} cm of side seam and {:.1} cm of sleeve seam",
            girth / 10.0,
            arm.long / 10.0,
            arm.gusset / 10.0,
            torso.length / 10.0,
            side / 10.0,
            under / 10.0
        );
        making.fault("no-armhole", &["garment.gusset", "garment.sleeve.length", "garment.length"], text);
        return None;
    }
    let neck = neck::decide(making, figure, &torso, 0.5 * girth)?;
    Some((torso, arm, neck))
}

/// Length of the sleeve from the side of the body.
fn reach(making: &mut Making, figure: &Figure, torso: &Torso, gusset: f64) -> Option<f64> {
    let arm = figure.get(Part::ArmLength);
    let whole = match making.wish.sleeve {
        SleeveWish::Short => rules::SHORT_SLEEVE * arm,
        SleeveWish::Long => arm,
        SleeveWish::At(length) => mm(Some(length))?,
    };
    let dropped = torso.quarter - torso.shoulder;
    if !(60.0..=1.15 * arm).contains(&whole) {
        let text = format!("a sleeve of {:.1} cm from the shoulder point cannot be drafted for this arm", whole / 10.0);
        making.fault("bad-sleeve", &["garment.sleeve.length", "garment.body.arm_length"], text);
        return None;
    }
    let say = making.say;
    making.because(
        "garment.sleeve.length",
        format!(
            "sleeve {} from the shoulder point, of which the body's own width is {}",
            say.length(whole),
            say.length(dropped)
        ),
    );
    // A sleeve that would end inside the wide body is let out to where its gusset ends and a hand's breadth more.
    let least = gusset + 60.0;
    if whole - dropped < least {
        let text = format!(
            "the sleeve is let out by {}: its gusset is {} long",
            say.length(least - whole + dropped),
            say.length(gusset)
        );
        making.because("garment.sleeve.length", text);
    }
    Some((whole - dropped).max(least))
}

/// The gusset that brings the underarm to a quarter of the chest and 5 cm below the shoulder [reference rule of the T
/// block]; old shirts have squares of 120 to 150 mm.
fn gusset(making: &mut Making, figure: &Figure, girth: f64) -> Option<f64> {
    let usual = (0.25 * figure.get(Part::Chest) + 50.0 - 0.5 * girth).clamp(70.0, 220.0);
    let side = mm(making.wish.gusset).unwrap_or(usual);
    if !(40.0..=250.0).contains(&side) {
        let text = format!("a gusset of {:.1} cm cannot be set in: 4 to 25 cm can", side / 10.0);
        making.fault("bad-gusset", &["garment.gusset"], text);
        return None;
    }
    if making.wish.gusset.is_none() {
        let text = format!("gussets {} square, so that the arms lift", making.say.length(side));
        making.because("garment.gusset", text);
    }
    Some(side)
}

fn cut(making: &mut Making, torso: &Torso, arm: &Arm, neck: &Neck) -> Pieces {
    let allowance = making.allowance();
    let hem = making.hem_depth(rules::HEM);
    let g = arm.gusset;
    let print_front = print(making, "front", neck.front, neck.slit);
    let print_back = print(making, "back", neck.back, 0.0);
    let mut front = panel(torso, arm, "front", neck.front_curve(), neck.front);
    front.print = print_front;
    if let Some(line) = neck.slit_line() {
        front = front.mark(MarkKind::Slit, line, "slit: cut after the facing is sewn");
    }
    let mut back = panel(torso, arm, "back", neck.back_curve(), neck.back);
    back.print = print_back;
    let (front, back) = (making.add(front), making.add(back));
    let sleeve = making.add(sleeve_blank(arm));
    let square = Rect::new(0.0, 0.0, g, g);
    let sides = ["sleeve_front", "body_front", "body_back", "sleeve_back"];
    let gusset = making.add(Blank::rectangle("gusset", 2, square, sides).hidden());
    making.sew("shoulder", allowance, &[(front, "shoulder_right")], &[(back, "shoulder_right")], 2);
    neck::face(making, neck, torso, front, back, allowance);
    making.sew("sleeve", allowance, &[(front, "sleeve_right"), (back, "sleeve_right")], &[(sleeve, "top")], 2);
    making.sew("gusset to front", allowance, &[(front, "gusset_right")], &[(gusset, "body_front")], 2);
    making.sew("gusset to back", allowance, &[(back, "gusset_right")], &[(gusset, "body_back")], 2);
    making.sew("gusset to sleeve front", allowance, &[(sleeve, "gusset_front")], &[(gusset, "sleeve_front")], 2);
    making.sew("gusset to sleeve back", allowance, &[(sleeve, "gusset_back")], &[(gusset, "sleeve_back")], 2);
    making.sew("underarm", allowance, &[(sleeve, "underarm_front")], &[(sleeve, "underarm_back")], 2);
    making.sew("side", allowance, &[(front, "side_right")], &[(back, "side_right")], 2);
    making.hem("hem", hem, &[(front, "hem"), (back, "hem")], 1);
    making.hem("sleeve hem", hem, &[(sleeve, "hem")], 2);
    Pieces { front, gusset }
}

/// Front or back: a rectangle whose side carries sleeve, gusset and side seam.
fn panel(torso: &Torso, arm: &Arm, name: &str, neck: BezPath, depth: f64) -> Blank {
    let half = 0.5 * arm.girth;
    let side = |y: f64| Point::new(torso.quarter, y);
    let start = curve::end(&neck);
    let right = vec![
        ("neck", neck),
        ("shoulder", curve::straight(start, side(0.0))),
        ("sleeve", curve::straight(side(0.0), side(half))),
        ("gusset", curve::straight(side(half), side(half + arm.gusset))),
        ("side", curve::straight(side(half + arm.gusset), side(torso.hem))),
        ("hem", curve::straight(side(torso.hem), Point::new(0.0, torso.hem))),
    ];
    let middle = curve::straight(Point::new(0.0, depth), Point::new(0.0, torso.hem));
    Blank { edges: both_halves(right), ..Blank::of(name, 1, Vec::new()) }
        .mark(MarkKind::Centre, middle, format!("centre {name}"))
        .notch("sleeve_right", half, false)
        .notch("sleeve_left", 0.0, false)
        .notch("gusset_right", arm.gusset, false)
        .notch("gusset_left", 0.0, false)
        .notch("shoulder_right", 0.0, false)
        .notch("shoulder_left", torso.quarter - start.x, false)
}

fn sleeve_blank(arm: &Arm) -> Blank {
    let half = 0.5 * arm.girth;
    let p = |x: f64, y: f64| Point::new(x, y);
    let edges = vec![
        ("top", curve::straight(p(-half, 0.0), p(half, 0.0))),
        ("gusset_front", curve::straight(p(half, 0.0), p(half, arm.gusset))),
        ("underarm_front", curve::straight(p(half, arm.gusset), p(half, arm.long))),
        ("hem", curve::straight(p(half, arm.long), p(-half, arm.long))),
        ("underarm_back", curve::straight(p(-half, arm.long), p(-half, arm.gusset))),
        ("gusset_back", curve::straight(p(-half, arm.gusset), p(-half, 0.0))),
    ];
    Blank::of("sleeve", 2, edges)
        .mark(MarkKind::Centre, curve::straight(p(0.0, 0.0), p(0.0, arm.long)), "middle, to the shoulder seam")
        .notch("top", half, false)
        .notch("gusset_front", arm.gusset, false)
        .notch("gusset_back", 0.0, false)
}
